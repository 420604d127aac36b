//! Older copies that are put back, with `waxend restore` or without the server noticing.

mod ledgers;
mod replaced;

use std::fs;

use shared::log::UnixMs;
use shared::sync::messages::{MissingBlobsAnswer, MissingEntriesAnswer, PushOutcome, Status};
use support::running::{Client, Server, run};
use support::sample::{Pen, picture, unsent};

use crate::{WAXEND, server};

/// What a device does when its cursor is lost: it asks what is missing and pushes that with its `received`. Returns how
/// many entries were missing.
pub(super) fn offer_everything(
    device: &Client,
    entries: &[shared::log::Entry],
    received: &[UnixMs],
) -> usize {
    let held: Vec<_> = unsent(entries)
        .into_iter()
        .zip(received)
        .map(|(held, received)| shared::log::ReceivedEntry {
            received: Some(*received),
            ..held
        })
        .collect();
    let asked: Vec<_> = held
        .iter()
        .map(|held| serde_json::json!({ "id": held.entry.id, "received": held.received }))
        .collect();
    let missing: MissingEntriesAnswer = device
        .post("/api/v1/entries/missing", &serde_json::json!({ "held": asked }))
        .read(200);
    let offered: Vec<_> = held
        .into_iter()
        .filter(|held| missing.missing.contains(&held.entry.id))
        .collect();
    let expected: Vec<_> = offered
        .iter()
        .map(|held| PushOutcome::Accepted {
            received: held.received.unwrap(),
        })
        .collect();
    assert_eq!(device.push(offered), expected, "the carried time is kept");
    missing.missing.len()
}

fn times(results: &[PushOutcome]) -> Vec<UnixMs> {
    results
        .iter()
        .map(|taken| match taken {
            PushOutcome::Accepted { received } => *received,
            PushOutcome::Refused(problem) => panic!("{problem:?}"),
        })
        .collect()
}

#[test]
fn an_older_backup_put_back_loses_nothing_a_device_still_holds() {
    let (folder, server) = server();
    let mut pen = Pen::new(1);
    let device = server.join(pen.device);
    let old = pen.whole_job(b"").entries;
    let old_times = times(&device.push(unsent(&old)));
    let early = device.put_picture(&picture(1, 3000));
    let backup = folder.path().join("shop.tar");
    let out = server.run(&["backup", backup.to_str().unwrap()]);
    assert!(out.status.success(), "{}", String::from_utf8_lossy(&out.stderr));

    let new = pen.whole_job(b"").entries;
    let new_times = times(&device.push(unsent(&new)));
    let (_, cursor) = device.pull_all();
    let data = server.data.clone();
    server.stop();
    let refused = run(WAXEND, &data, &["restore", backup.to_str().unwrap()]);
    assert!(!refused.status.success(), "a shop is there already");
    let restored = run(WAXEND, &data, &["restore", "--replace", backup.to_str().unwrap()]);
    assert!(
        restored.status.success(),
        "{}",
        String::from_utf8_lossy(&restored.stderr)
    );

    let server = Server::start(WAXEND, &data, &[]);
    let device = device.at(&server);
    assert_eq!(device.pull(Some(cursor)).refusal(409), "cursor_lost");
    let all: Vec<_> = old.iter().chain(&new).cloned().collect();
    let all_times: Vec<_> = old_times.into_iter().chain(new_times).collect();
    assert_eq!(offer_everything(&device, &all, &all_times), new.len());
    let (held, _) = device.pull_all();
    assert_eq!(held.len(), all.len());
    assert!(held.iter().all(|held| {
        let at = all.iter().position(|entry| entry.id == held.entry.id).unwrap();
        held.entry == all[at] && held.received == Some(all_times[at])
    }));
    assert_eq!(
        device.get(&format!("/api/v1/blobs/{early}")).body,
        picture(1, 3000)
    );
}

#[test]
fn a_database_file_copied_back_unnoticed_is_noticed() {
    let (_folder, server) = server();
    let mut pen = Pen::new(1);
    let device = server.join(pen.device);
    let old = pen.whole_job(b"").entries;
    let old_times = times(&device.push(unsent(&old)));
    let data = server.data.clone();
    server.stop();
    let saved = fs::read(data.join("waxend.db")).unwrap();

    let server = Server::start(WAXEND, &data, &[]);
    let new = pen.whole_job(b"").entries;
    let device = device.at(&server);
    let new_times = times(&device.push(unsent(&new)));
    let lost = device.put_picture(&picture(2, 3000));
    let (_, cursor) = device.pull_all();
    server.stop();
    fs::write(data.join("waxend.db"), saved).unwrap();

    let server = Server::start(WAXEND, &data, &[]);
    let device = device.at(&server);
    assert_eq!(device.pull(Some(cursor)).refusal(409), "cursor_lost");
    // Also after another device's pushes have brought the numbering past its former end.
    let mut other = Pen::new(2);
    let second = server.join(other.device);
    let others = [other.whole_job(b"").entries, other.whole_job(b"").entries].concat();
    second.push_all(&others);
    assert_eq!(device.pull(Some(cursor)).refusal(409), "cursor_lost");

    let all: Vec<_> = old.iter().chain(&new).cloned().collect();
    let all_times: Vec<_> = old_times.into_iter().chain(new_times).collect();
    assert_eq!(offer_everything(&device, &all, &all_times), new.len());
    let asked = serde_json::json!({ "hashes": [lost] });
    let answer: MissingBlobsAnswer = device.post("/api/v1/blobs/missing", &asked).read(200);
    assert_eq!(answer.missing, [lost]);
    device.put_picture(&picture(2, 3000));
    let status: Status = device.ask_status().read(200);
    assert_eq!(
        (status.entries, status.blobs),
        ((all.len() + others.len()) as u64, 1)
    );
    assert!(server.run(&["check"]).status.success());
}

#[test]
fn a_file_that_is_no_whole_backup_changes_nothing() {
    let (folder, server) = server();
    let mut pen = Pen::new(1);
    let device = server.join(pen.device);
    device.push_all(&pen.whole_job(b"").entries);
    device.put_picture(&picture(1, 30_000));
    let backup = folder.path().join("shop.tar");
    assert!(server.run(&["backup", backup.to_str().unwrap()]).status.success());
    assert!(
        !server.run(&["backup", backup.to_str().unwrap()]).status.success(),
        "never over another file"
    );
    let data = server.data.clone();
    let busy = server.run(&["restore", "--replace", backup.to_str().unwrap()]);
    assert!(String::from_utf8_lossy(&busy.stderr).contains("already runs"));
    server.stop();

    let whole = fs::read(&backup).unwrap();
    let before = fs::read(data.join("waxend.db")).unwrap();
    let mut flipped = whole.clone();
    flipped[..4].copy_from_slice(b"none");
    let cuts = [0, 10, 600, 5_000, whole.len() / 2, whole.len() - 1536];
    let bad = cuts
        .iter()
        .map(|cut| whole[..*cut].to_vec())
        .chain([b"not a tar".to_vec(), flipped]);
    for (number, bytes) in bad.enumerate() {
        let file = folder.path().join(format!("bad-{number}.tar"));
        fs::write(&file, bytes).unwrap();
        let out = run(WAXEND, &data, &["restore", "--replace", file.to_str().unwrap()]);
        assert!(!out.status.success(), "{number}");
        assert!(
            String::from_utf8_lossy(&out.stderr).contains("not a complete Waxend backup"),
            "{number} {out:?}"
        );
        assert_eq!(fs::read(data.join("waxend.db")).unwrap(), before);
        let names: Vec<_> = fs::read_dir(&data)
            .unwrap()
            .map(|entry| entry.unwrap().file_name())
            .collect();
        assert!(
            names
                .iter()
                .all(|name| !name.to_string_lossy().contains("restoring")),
            "{names:?}"
        );
    }
}
