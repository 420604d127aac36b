//! The first inputs of the targets: entries and messages as the app and the server write them.

use std::collections::BTreeSet;
use std::path::PathBuf;

use serde_json::{Value, json};
use shared::log::body::{Body, Erased, SameAs};
use shared::log::{Entry, EntryId, PersonId, ReceivedEntry, Subject, SubjectKind};
use support::every::{Stay, every_kind};
use support::sample::{Pen, blob_of, unsent};
use uuid::Uuid;

/// Writes every target's seeds and the words in them below the folder in `FUZZ_CORPUS`, and prints the targets' names.
pub(crate) fn write(targets: impl Iterator<Item = (&'static str, Vec<Vec<u8>>)>) {
    let root = PathBuf::from(std::env::var_os("FUZZ_CORPUS").expect("the folder for seeds, in FUZZ_CORPUS"));
    let mut words = BTreeSet::new();
    for (name, seeds) in targets {
        let folder = root.join(name);
        std::fs::create_dir_all(&folder).unwrap();
        for (number, seed) in seeds.iter().enumerate() {
            std::fs::write(folder.join(format!("seed-{number:03}")), seed).unwrap();
            words.extend(quoted(seed));
        }
        println!("{name}");
    }
    let line = |word: &String| format!("\"\\\"{word}\\\"\"\n");
    std::fs::write(
        root.join("words.dict"),
        words.iter().map(line).collect::<String>(),
    )
    .unwrap();
}

/// The words between quotation marks in a seed: 2 to 24 letters, digits and underscores.
fn quoted(seed: &[u8]) -> Vec<String> {
    let text = String::from_utf8_lossy(seed);
    let plain = |word: &&str| {
        (2..25).contains(&word.len()) && word.chars().all(|c| c.is_ascii_alphanumeric() || c == '_')
    };
    text.split('"').filter(plain).map(str::to_owned).collect()
}

/// One entry of every kind, and one of a kind that only a newer app knows.
fn every() -> Vec<Entry> {
    let mut pen = Pen::new(1);
    let [shop, customer, pair, ticket, job] = [
        SubjectKind::Shop,
        SubjectKind::Customer,
        SubjectKind::Pair,
        SubjectKind::Ticket,
        SubjectKind::Job,
    ]
    .map(|kind| Subject::new(kind, pen.subject()));
    let stay = Stay {
        shop,
        customer: customer.clone(),
        pair: pair.clone(),
        ticket,
        job: job.clone(),
        earlier: pen.subject(),
        person: PersonId(Uuid::from_u128(9)),
        secret: "ab".repeat(16),
        full: blob_of(b"picture", "image/jpeg"),
        thumb: blob_of(b"small", "image/jpeg"),
        voice: blob_of(b"spoken", "audio/webm"),
    };
    let mut entries = Vec::new();
    every_kind(&stay, |subject, body, over| {
        let mut entry = pen.entry(subject.kind.clone(), subject.id, &body);
        entry.over = over;
        entry.person = Some(stay.person);
        let id: EntryId = entry.id;
        entries.push(entry);
        id
    });
    let other = pen.subject();
    entries.push(pen.entry(SubjectKind::Pair, pair.id, &Body::SameAs(SameAs { other })));
    entries.push(pen.entry(
        SubjectKind::Customer,
        customer.id,
        &Body::Erased(Erased::default()),
    ));
    let blob = Some(stay.thumb.sha256.clone());
    entries.push(pen.entry(SubjectKind::Job, job.id, &Body::Erased(Erased { blob })));
    entries.push(pen.raw(
        SubjectKind::Job,
        job.id,
        "kind_of_2031",
        "{ \"b\" : 1.50, \"a\":\"\\u00e9\" }",
    ));
    entries
}

fn line(held: &ReceivedEntry) -> String {
    serde_json::to_string(held).unwrap()
}

pub(crate) fn entries() -> Vec<Vec<u8>> {
    unsent(&every())
        .iter()
        .map(|held| line(held).into_bytes())
        .collect()
}

pub(crate) fn bodies() -> Vec<Vec<u8>> {
    every()
        .iter()
        .map(|entry| format!("{}\n{}", entry.kind, entry.body).into_bytes())
        .collect()
}

/// Logs of entries: a whole stay, and for each kind an entry of it after an opening.
pub(crate) fn logs() -> Vec<Vec<u8>> {
    let all = unsent(&every());
    let joined = |held: &[ReceivedEntry]| held.iter().map(line).collect::<Vec<_>>().join("\n").into_bytes();
    let mut logs = vec![joined(&all)];
    logs.extend(all.chunks(6).map(joined));
    logs
}

pub(crate) fn pushes() -> Vec<Vec<u8>> {
    let all = unsent(&every());
    let id = Uuid::nil();
    let pushed = json!({ "epoch": id, "seq": 3, "mark": id });
    all.chunks(9)
        .map(|some| {
            json!({ "entries": some, "pushed": pushed })
                .to_string()
                .into_bytes()
        })
        .chain([br#"{"entries":[{"not":"an entry"}]}"#.to_vec()])
        .collect()
}

pub(crate) fn messages() -> Vec<Vec<u8>> {
    let held = unsent(&every()[..2]);
    let id = Uuid::from_u128(1 << 100 | 7);
    let cursor = json!({ "epoch": id, "seq": 3, "mark": id });
    let problem = json!({ "code": "link_taken", "message": "Another pair has it.", "retry_after": 3 });
    let device = json!({
        "id": id, "name": "Bench", "letters": "A", "joined": 1, "seen": 2, "seq": 3, "revoked": 4, "role": "helper"
    });
    let samples: Vec<(&str, Value)> = vec![
        (
            "JoinRequest",
            json!({ "code": "K7QM-2RTX", "device": id, "name": "Bench", "shop": id }),
        ),
        (
            "JoinAnswer",
            json!({ "token": "t", "shop": id, "letters": "A", "role": "helper" }),
        ),
        (
            "JoinCode",
            json!({ "code": "K7QM-2RTX", "expires": 5, "role": "helper" }),
        ),
        ("JoinCodeRequest", json!({ "role": "helper" })),
        ("PushRequest", json!({ "entries": held, "pushed": cursor })),
        (
            "PushAnswer",
            json!({ "results": [{ "accepted": { "received": 5 } }, { "refused": problem }], "before": cursor, "at": cursor }),
        ),
        (
            "PullAnswer",
            json!({ "entries": held, "cursor": cursor, "more": false, "wanted": ["ab"], "due": held, "role": "repairer" }),
        ),
        ("InShopAnswer", json!({ "entries": held, "start": cursor })),
        (
            "HistoryAnswer",
            json!({ "entries": held, "next": { "subject_seq": 1, "seq": 2 } }),
        ),
        ("MissingEntries", json!({ "held": [{ "id": id, "received": 5 }] })),
        ("MissingEntriesAnswer", json!({ "missing": [id] })),
        (
            "KeptAsideAnswer",
            json!({ "entries": [{ "entry": held[0], "device": id, "arrived": 5 }], "more": true }),
        ),
        ("KeptAsideDecision", json!({ "take": [id], "drop": [id] })),
        (
            "KeptAsideDecided",
            json!({ "taken": [[id, { "accepted": { "received": 5 } }], [id, { "refused": problem }]] }),
        ),
        (
            "ShutOutQuestion",
            json!({ "device": id, "nonce": id, "cursor": cursor, "pushed": cursor }),
        ),
        ("ShutOutProof", json!({ "proofs": ["ab"] })),
        ("MissingBlobs", json!({ "hashes": ["ab"] })),
        ("MissingBlobsAnswer", json!({ "missing": ["ab"] })),
        (
            "Status",
            json!({ "shop": id, "entries": 1, "blobs": 2, "now": 3, "version": "0.1.0" }),
        ),
        ("Device", device),
        ("Cursor", cursor),
        ("HistoryMark", json!({ "subject_seq": 1, "seq": 2 })),
        ("Problem", problem),
        (
            "Progress",
            serde_json::to_value(shared::sync::machine::Progress::default()).unwrap(),
        ),
        (
            "Erasures",
            json!({ "subjects": [id], "blobs": ["ab"], "mentions": [[id, id]] }),
        ),
    ];
    samples
        .iter()
        .map(|(name, value)| format!("{name}\n{value}").into_bytes())
        .collect()
}
