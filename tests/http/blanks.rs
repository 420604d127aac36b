//! Blank copies of entries: without an erasure that explains them they change nothing and are refused.

use std::path::Path;

use server::data::DataFolder;
use server_core::store::{LogTx, Store, StoreTx, TxMode};
use shared::log::body::{Erased, Retracted, SameAs};
use shared::log::{Body, Entry, SubjectId, SubjectKind};
use shared::sync::messages::{MissingEntriesAnswer, PullAnswer, PushOutcome};
use support::running::{Client, Server};
use support::sample::{Pen, picture, unsent};

use crate::{WAXEND, server};

fn blanked(entry: &Entry) -> Entry {
    Entry {
        body: String::new(),
        ..entry.clone()
    }
}

/// Pushes entries and returns the code with which each was refused; "" for an accepted one.
fn words(device: &Client, entries: &[Entry]) -> Vec<String> {
    let results = device.push(unsent(entries));
    let word = |taken: &PushOutcome| match taken {
        PushOutcome::Accepted { .. } => String::new(),
        PushOutcome::Refused(problem) => problem.code.as_str().to_owned(),
    };
    results.iter().map(word).collect()
}

#[test]
fn a_blank_copy_of_a_stored_entry_is_refused_and_destroys_nothing() {
    let (_folder, server) = server();
    let mut pen = Pen::new(1);
    let (device, liar) = (server.join(pen.device), server.join(Pen::new(2).device));
    let bytes = picture(1, 3000);
    let job = pen.whole_job(&bytes);
    device.push_all(&job.entries);
    let hash = device.put_picture(&bytes);
    let before = device.pull_all().0;

    let blanks: Vec<_> = job.entries.iter().map(blanked).collect();
    assert!(words(&liar, &blanks).iter().all(|word| word == "erasure_unknown"));
    assert_eq!(device.pull_all().0, before);
    assert_eq!(device.get(&format!("/api/v1/blobs/{hash}")).body, bytes);
    assert_eq!(device.get(&format!("/card/{}", job.secret)).status, 200);
    assert!(server.run(&["check"]).status.success());
}

#[test]
fn a_blank_copy_that_comes_first_does_not_keep_the_content_out() {
    let (_folder, server) = server();
    let mut pen = Pen::new(1);
    let (device, liar) = (server.join(pen.device), server.join(Pen::new(2).device));
    let job = pen.whole_job(b"");
    let blanks: Vec<_> = job.entries.iter().map(blanked).collect();
    assert!(words(&liar, &blanks).iter().all(|word| word == "erasure_unknown"));
    assert!(device.pull_all().0.is_empty(), "nothing was numbered");
    device.push_all(&job.entries);
    let held: Vec<_> = device.pull_all().0.into_iter().map(|held| held.entry).collect();
    assert_eq!(held, job.entries);
}

#[test]
fn a_blank_copy_is_taken_with_its_erasure_or_after_it() {
    let (_folder, server) = server();
    let mut pen = Pen::new(1);
    let device = server.join(pen.device);
    let (one, two) = (pen.whole_job(b"1"), pen.whole_job(b"2"));
    let erase = |pen: &mut Pen, customer| {
        pen.entry(SubjectKind::Customer, customer, &Body::Erased(Erased::default()))
    };
    // In one batch, with the erasure after the blank copy.
    let together = [blanked(&one.entries[1]), erase(&mut pen, one.customer)];
    assert_eq!(words(&device, &together), ["", ""]);
    // In separate batches, the blank copy first: it is refused until the erasure has arrived.
    let late = [blanked(&two.entries[1])];
    assert_eq!(words(&device, &late), ["erasure_unknown"]);
    assert_eq!(words(&device, &[erase(&mut pen, two.customer)]), [""]);
    assert_eq!(words(&device, &late), [""]);
}

#[test]
fn a_blank_copy_of_what_an_erasure_leaves_is_never_taken() {
    let (_folder, server) = server();
    let mut pen = Pen::new(1);
    let (device, liar) = (server.join(pen.device), server.join(Pen::new(2).device));
    let job = pen.whole_job(b"1");
    device.push_all(&job.entries);
    let on_customer = |pen: &mut Pen, body: &Body| pen.entry(SubjectKind::Customer, job.customer, body);
    let erasure = on_customer(&mut pen, &Body::Erased(Erased::default()));
    let first = job.entries[0].id;
    let retraction = on_customer(&mut pen, &Body::Retracted(Retracted { entry: first }));
    let other = pen.subject();
    let same = on_customer(&mut pen, &Body::SameAs(SameAs { other }));
    let ties = [erasure.clone(), retraction, same];
    device.push_all(&[erasure]);
    let blanks: Vec<_> = ties.iter().map(blanked).collect();
    assert_eq!(words(&liar, &blanks), ["erasure_unknown"; 3]);
    device.push_all(&ties);
    assert_eq!(words(&liar, &blanks), ["erasure_unknown"; 3]);
    let held: Vec<_> = device.pull_all().0.into_iter().map(|held| held.entry).collect();
    for tie in &ties {
        assert!(held.contains(tie), "{tie:?}");
    }
}

#[test]
fn the_shop_itself_cannot_be_erased() {
    let (_folder, server) = server();
    let mut pen = Pen::new(1);
    let device = server.join(pen.device);
    let status: serde_json::Value = device.ask_status().read(200);
    let shop: SubjectId = status["shop"].as_str().unwrap().parse().unwrap();
    let other = pen.subject();
    let named = [
        pen.raw(
            SubjectKind::Shop,
            shop,
            "detail",
            r#"{"field":"name","value":"Corner bench"}"#,
        ),
        // Entries about the shop that a device made before it joined have a shop subject of their own.
        pen.raw(
            SubjectKind::Shop,
            other,
            "detail",
            r#"{"field":"name","value":"My bench"}"#,
        ),
    ];
    device.push_all(&named);
    let before = device.pull_all().0;
    for id in [shop, other] {
        for kind in [SubjectKind::Shop, SubjectKind::Customer, SubjectKind::Pair] {
            let erasure = pen.entry(kind, id, &Body::Erased(Erased::default()));
            assert_eq!(words(&device, &[erasure]), ["not_erasable"]);
        }
    }
    assert_eq!(device.pull_all().0, before);
    // A photograph of the shop can be erased.
    let hash = device.put_picture(&picture(1, 2000));
    let erased = Body::Erased(Erased { blob: Some(hash) });
    assert_eq!(
        words(&device, &[pen.entry(SubjectKind::Shop, shop, &erased)]),
        [""]
    );
}

/// The server of an earlier version, without this rule, may have blank entries that no erasure explains.
#[test]
fn a_full_copy_mends_an_entry_that_was_blanked_without_an_erasure() {
    let (folder, server) = server();
    let mut pen = Pen::new(1);
    let (device, other) = (server.join(pen.device), server.join(Pen::new(2).device));
    let job = pen.whole_job(b"");
    device.push_all(&job.entries);
    server.stop();
    let data = folder.path().join("data");
    blank_in_database(&data, &job.entries);
    let server = Server::start(WAXEND, &data, &[]);
    let (device, other) = (device.at(&server), other.at(&server));
    let checked = server.run(&["check"]);
    let said =
        String::from_utf8_lossy(&checked.stdout).into_owned() + &String::from_utf8_lossy(&checked.stderr);
    assert!(
        !checked.status.success() && said.contains("nothing erased them"),
        "{said}"
    );

    // Devices are told that the server lacks the content, and what they push reaches all devices.
    let ids: Vec<_> = job
        .entries
        .iter()
        .map(|entry| serde_json::json!({ "id": entry.id }))
        .collect();
    let asked = serde_json::json!({ "held": ids });
    let answer: MissingEntriesAnswer = device.post("/api/v1/entries/missing", &asked).read(200);
    assert_eq!(answer.missing.len(), job.entries.len());
    let cursor = other.pull_all().1;
    device.push_all(&job.entries);
    let news: PullAnswer = other.pull(Some(cursor)).read(200);
    assert_eq!(
        news.entries
            .into_iter()
            .map(|held| held.entry)
            .collect::<Vec<_>>(),
        job.entries
    );
    assert_eq!(device.get(&format!("/card/{}", job.secret)).status, 200);
    let wanted: Vec<_> = device
        .post("/api/v1/entries/missing", &asked)
        .read::<MissingEntriesAnswer>(200)
        .missing;
    assert!(wanted.is_empty());
    assert!(server.run(&["check"]).status.success());
}

fn blank_in_database(data: &Path, entries: &[Entry]) {
    let runtime = tokio::runtime::Builder::new_current_thread()
        .enable_all()
        .build()
        .unwrap();
    runtime.block_on(async {
        let store = DataFolder::at(data).unwrap().open_store().await.unwrap();
        let mut tx = store.begin(TxMode::Write).await.unwrap();
        let ids: Vec<_> = entries.iter().map(|entry| entry.id).collect();
        for stored in tx.stored(&ids).await.unwrap() {
            tx.blank(&stored).await.unwrap();
        }
        tx.commit().await.unwrap();
        store.close().await;
    });
}
