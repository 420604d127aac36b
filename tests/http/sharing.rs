//! Two devices that share one server.

use shared::log::{DeviceId, ReceivedEntry, SubjectKind, UnixMs};
use shared::sync::Cursor;
use shared::sync::messages::{
    BATCH_BYTES, Device, HistoryAnswer, InShopAnswer, MissingBlobsAnswer, MissingEntriesAnswer, PullAnswer,
    PushOutcome, Status,
};
use support::running::{Client, eventually};
use support::sample::{Pen, picture, unsent};

use crate::server;

fn received(taken: &PushOutcome) -> UnixMs {
    match taken {
        PushOutcome::Accepted { received } => *received,
        PushOutcome::Refused(problem) => panic!("{problem:?}"),
    }
}

#[test]
fn what_one_device_pushes_the_other_pulls_byte_for_byte() {
    let (_folder, server) = server();
    let (mut one, two) = (Pen::new(1), Pen::new(2));
    let (first, second) = (server.join(one.device), server.join(two.device));
    let mut entries = one.whole_job(b"").entries;
    let odd = "{ \"b\" : 1,\t\"a\":\"\\u00e9 é\" , \"n\":1.0e2,\"z\":null}";
    let subject = one.subject();
    entries.push(one.raw(SubjectKind::from("last_drawer"), subject, "kind_of_2031", odd));
    entries.push(one.raw(
        SubjectKind::Pair,
        subject,
        "note",
        "not json at all \u{0} \u{1F97F}",
    ));
    first.push_all(&entries);
    let (pulled, cursor) = second.pull_all();
    assert_eq!(
        pulled.iter().map(|held| &held.entry).collect::<Vec<_>>(),
        entries.iter().collect::<Vec<_>>()
    );
    assert!(pulled.iter().all(|held| held.received.is_some()));
    let nothing: PullAnswer = second.pull(Some(cursor)).read(200);
    assert_eq!(
        (nothing.entries.len(), nothing.cursor, nothing.more),
        (0, cursor, false)
    );
    let status: Status = second.ask_status().read(200);
    assert_eq!(status.entries, entries.len() as u64);
}

#[test]
fn pushing_again_changes_nothing_and_an_earlier_received_is_news() {
    let (_folder, server) = server();
    let mut pen = Pen::new(1);
    let (first, second) = (server.join(pen.device), server.join(Pen::new(2).device));
    let entries = pen.whole_job(b"").entries;
    let results = first.push(unsent(&entries));
    assert_eq!(first.push(unsent(&entries)), results);
    let (_, cursor) = second.pull_all();
    assert_eq!(cursor.seq, entries.len() as u64);

    // A device with an acknowledgement from before a restore pushes the earlier `received` again.
    let earlier = UnixMs(received(&results[0]).0 - 1000);
    let carried = ReceivedEntry {
        entry: entries[0].clone(),
        received: Some(earlier),
    };
    assert_eq!(
        first.push(vec![carried.clone()]),
        [PushOutcome::Accepted { received: earlier }]
    );
    let news: PullAnswer = second.pull(Some(cursor)).read(200);
    assert_eq!(news.entries, [carried]);
    let later = ReceivedEntry {
        entry: entries[1].clone(),
        received: Some(UnixMs(received(&results[1]).0 + 1000)),
    };
    assert_eq!(first.push(vec![later])[0], results[1], "a later time is no news");
}

#[test]
fn pages_stay_below_their_bound_and_lose_nothing() {
    let (_folder, server) = server();
    let mut pen = Pen::new(1);
    let device = server.join(pen.device);
    let subject = pen.subject();
    let sizes = [10, 200_000, 250_000, 2, 262_000, 90_000, 262_000, 262_000, 50_000];
    let long =
        |pen: &mut Pen, bytes: usize| pen.raw(SubjectKind::Pair, subject, "note", &"é".repeat(bytes / 2));
    let entries: Vec<_> = sizes.iter().map(|bytes| long(&mut pen, *bytes)).collect();
    entries
        .iter()
        .for_each(|entry| device.push_all(std::slice::from_ref(entry)));
    let (mut pulled, mut cursor): (Vec<ReceivedEntry>, Option<Cursor>) = (Vec::new(), None);
    loop {
        let answer = device.pull(cursor);
        assert!(answer.body.len() <= BATCH_BYTES, "{}", answer.body.len());
        let page: PullAnswer = answer.read(200);
        pulled.extend(page.entries);
        cursor = Some(page.cursor);
        if !page.more {
            break;
        }
    }
    assert!(pulled.iter().map(|held| &held.entry).eq(&entries));
    let start = device.get("/api/v1/in-shop").read::<InShopAnswer>(200).start;
    let history = history(&device, start);
    assert!(history.iter().map(|held| &held.entry).eq(&entries));
}

fn history(device: &Client, start: Cursor) -> Vec<ReceivedEntry> {
    let (mut all, mut next) = (Vec::new(), None);
    loop {
        let from = next.map(|mark: shared::sync::HistoryMark| {
            format!("&before_subject={}&before_seq={}", mark.subject_seq, mark.seq)
        });
        let query = format!(
            "epoch={}&seq={}&mark={}{}",
            start.epoch,
            start.seq,
            start.mark,
            from.unwrap_or_default()
        );
        let answer = device.get(&format!("/api/v1/history?{query}"));
        assert!(answer.body.len() <= BATCH_BYTES);
        let page: HistoryAnswer = answer.read(200);
        all.extend(page.entries);
        match page.next {
            Some(mark) => next = Some(mark),
            None => return all,
        }
    }
}

#[test]
fn a_new_device_gets_what_is_here_then_history_then_the_tail() {
    let (_folder, server) = server();
    let mut pen = Pen::new(1);
    let device = server.join(pen.device);
    let (gone, here) = (pen.whole_job(b"1"), pen.whole_job(b"2"));
    device.push_all(&gone.entries);
    device.push_all(&here.entries);
    device.push_all(&[pen.hand_over(gone.job)]);

    let now: InShopAnswer = device.get("/api/v1/in-shop").read(200);
    let subjects: Vec<_> = now.entries.iter().map(|held| held.entry.subject.id).collect();
    assert!(
        [here.job, here.pair, here.ticket, here.customer]
            .iter()
            .all(|id| subjects.contains(id))
    );
    assert!(!subjects.contains(&gone.job) && !subjects.contains(&gone.pair));

    let late = pen.hand_over(here.job);
    device.push_all(std::slice::from_ref(&late));
    let history = history(&device, now.start);
    assert_eq!(history.len(), gone.entries.len() + here.entries.len() + 1);
    let at = |id| {
        history
            .iter()
            .position(|held| held.entry.subject.id == id)
            .unwrap()
    };
    assert!(
        at(here.job) < at(here.pair) && at(here.pair) < at(gone.job),
        "newest subject first"
    );
    let tail: PullAnswer = device.pull(Some(now.start)).read(200);
    assert_eq!(
        tail.entries.iter().map(|held| held.entry.id).collect::<Vec<_>>(),
        [late.id]
    );
}

#[test]
fn what_the_server_lacks_of_what_a_device_holds() {
    let (_folder, server) = server();
    let mut pen = Pen::new(1);
    let device = server.join(pen.device);
    let entries = pen.whole_job(b"").entries;
    let results = device.push(unsent(&entries[..5]));
    let asked = serde_json::json!({ "held": [
        { "id": entries[0].id }, { "id": entries[1].id, "received": received(&results[1]) },
        { "id": entries[2].id, "received": received(&results[2]).0 - 1 }, { "id": entries[6].id },
    ]});
    let answer: MissingEntriesAnswer = device.post("/api/v1/entries/missing", &asked).read(200);
    assert_eq!(answer.missing, [entries[2].id, entries[6].id]);

    let [here, gone, shrunk, never] = [1, 2, 3, 4].map(|number| picture(number, 900));
    let [here, gone, shrunk] = [here, gone, shrunk].map(|bytes| device.put_picture(&bytes));
    let never = support::sample::sha256(&never);
    let file = |hash: &str| {
        server
            .data
            .join("photos")
            .join(&hash[..2])
            .join(&hash[2..4])
            .join(hash)
    };
    std::fs::remove_file(file(&gone)).unwrap();
    std::fs::write(file(&shrunk), b"half").unwrap();
    let asked = serde_json::json!({ "hashes": [here, gone, shrunk, never] });
    let answer: MissingBlobsAnswer = device.post("/api/v1/blobs/missing", &asked).read(200);
    assert_eq!(answer.missing, [gone.clone(), shrunk.clone(), never]);
    device.put_picture(&picture(2, 900));
    device.put_picture(&picture(3, 900));
    assert_eq!(
        device.get(&format!("/api/v1/blobs/{shrunk}")).body,
        picture(3, 900),
        "putting again mends"
    );
    let headers = device.get(&format!("/api/v1/blobs/{gone}"));
    assert_eq!(headers.header("cache-control"), "no-store");
    assert_eq!(headers.header("content-type"), "image/jpeg");
    assert_eq!(headers.header("x-content-type-options"), "nosniff");
}

/// The devices as the server lists them, after it has noted a pull by device `of` with the version `expected`.
fn versions(device: &Client, of: DeviceId, expected: Option<&str>) -> Vec<Device> {
    let mut devices = Vec::new();
    eventually("the version is noted", || {
        devices = device.devices();
        let noted = devices.iter().find(|known| known.id == of);
        noted.unwrap().app.as_deref() == expected
    });
    devices
}

#[test]
fn a_pull_names_the_version_of_the_app_and_older_apps_are_answered_as_ever() {
    let (_folder, server) = server();
    let (one, two) = (Pen::new(1).device, Pen::new(2).device);
    let (new, old) = (server.join(one), server.join(two));
    let (_, cursor) = new.pull_all();
    let query = format!("epoch={}&seq={}&mark={}", cursor.epoch, cursor.seq, cursor.mark);
    let asked = |device: &Client, more: &str| device.get(&format!("/api/v1/entries?{query}{more}"));
    let without = asked(&old, "");
    let with = asked(&new, "&app=0.2.0");
    assert_eq!(
        (with.status, &with.body),
        (200, &without.body),
        "the answer is the same"
    );
    let devices = versions(&old, one, Some("0.2.0"));
    assert_eq!(devices.iter().find(|known| known.id == two).unwrap().app, None);
    let told = String::from_utf8(server.run(&["devices"]).stdout).unwrap();
    let line = |id: DeviceId| {
        told.lines()
            .find(|line| line.contains(&id.to_string()))
            .unwrap()
            .to_owned()
    };
    assert!(
        line(one).contains("app 0.2.0") && line(two).contains("app unknown"),
        "{told}"
    );

    // A value that cannot be a version is no reason to refuse a pull; the same holds for an older app that sends no
    // version.
    for odd in [
        "&app=%3Cb%3E",
        "&app=",
        "&app=111111111111111111111111111111111",
        "",
    ] {
        assert_eq!(asked(&new, "&app=0.3.0").status, 200);
        versions(&new, one, Some("0.3.0"));
        assert_eq!(asked(&new, odd).status, 200, "{odd}");
        versions(&new, one, None);
    }
    asked(&new, "&app=0.1.9");
    versions(&new, one, Some("0.1.9"));
    let told = String::from_utf8(server.run(&["devices"]).stdout).unwrap();
    assert!(told.contains("app 0.1.9, too old"), "{told}");
}
