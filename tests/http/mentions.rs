//! What an entry says of a person is erased alone: that entry is blank for good, whatever comes later, and nothing else
//! is.

use std::collections::BTreeSet;
use std::slice;

use serde_json::{Value, json};
use shared::log::body::{Erased, ErasureAsked, MentionErased, Note};
use shared::log::{Body, Entry, EntryId, SubjectId, SubjectKind};
use shared::sync::messages::{
    KeptAsideDecided, KeptAsideDecision, MAX_ERASED_MENTIONS, MAX_ERASED_SUBJECTS, PullAnswer,
};
use support::running::{Client, Server, run};
use support::sample::{Pen, blob_of, picture};

use crate::erasure::at_rest;
use crate::roles_push::{KEPT, bench, codes};
use crate::{WAXEND, server};

const NAME: &str = "Ottoline Brack";
const BEYOND: &str = "too_many_erasures";

/// A remark on a job.
pub(super) fn note(pen: &mut Pen, job: SubjectId, text: &str) -> Entry {
    let said = Note {
        of: None,
        text: text.to_owned(),
        voice: None,
    };
    pen.entry(SubjectKind::Job, job, &Body::Note(said))
}

/// Erases what an entry mentions, and keeps `left` of it.
pub(super) fn erasing(pen: &mut Pen, of: &Entry, left: Option<Value>) -> Entry {
    let erased = MentionErased { entry: of.id, left };
    pen.entry(
        of.subject.kind.clone(),
        of.subject.id,
        &Body::MentionErased(erased),
    )
}

fn blanked(entry: &Entry) -> Entry {
    Entry {
        body: String::new(),
        ..entry.clone()
    }
}

/// Everything in the shop, as a device reads it.
pub(super) fn records(device: &Client) -> Vec<Entry> {
    let (held, _) = device.pull_all();
    held.into_iter().map(|held| held.entry).collect()
}

/// These entries with one of them blank.
fn with_blank(mut entries: Vec<Entry>, blank: EntryId) -> Vec<Entry> {
    for entry in entries.iter_mut().filter(|entry| entry.id == blank) {
        entry.body.clear();
    }
    entries
}

pub(super) fn is_well(server: &Server) {
    let out = server.run(&["check"]);
    assert!(
        out.status.success(),
        "{}{}",
        String::from_utf8_lossy(&out.stdout),
        String::from_utf8_lossy(&out.stderr)
    );
}

#[test]
fn only_the_entry_that_is_named_is_blank_for_every_device() {
    let (_folder, server) = server();
    let mut pen = Pen::new(1);
    let (device, other) = (server.join(pen.device), server.join(Pen::new(2).device));
    let bytes = picture(1, 3000);
    let job = pen.whole_job(&bytes);
    let voice = picture(7, 2000);
    let spoken = Note {
        of: None,
        text: format!("{NAME} calls on Monday"),
        voice: Some(blob_of(&voice, "image/jpeg")),
    };
    let spoken = pen.entry(SubjectKind::Job, job.job, &Body::Note(spoken));
    let beside = note(&mut pen, job.job, "Dark edges");
    device.push_all(&job.entries);
    device.push_all(&[spoken.clone(), beside]);
    let hashes = [&bytes, &voice].map(|bytes| device.put_picture(bytes));
    let before = records(&other);
    let (_, cursor) = other.pull_all();

    let photo = job.entries.iter().find(|entry| entry.kind == "photo").unwrap();
    let erased = [&spoken, photo].map(|of| erasing(&mut pen, of, None));
    device.push_all(&erased);
    let told: PullAnswer = other.pull(Some(cursor)).read(200);
    let told: Vec<_> = told.entries.into_iter().map(|held| held.entry).collect();
    assert_eq!(
        told, erased,
        "devices that have the entries are told what to blank"
    );
    let mut expected = with_blank(with_blank(before, spoken.id), photo.id);
    expected.extend(erased);
    let holds = || {
        assert_eq!(records(&other), expected);
        for hash in &hashes {
            let answer = other.get(&format!("/api/v1/blobs/{hash}"));
            assert_eq!(answer.status, 200, "what the blank entries named is still there");
        }
        assert!(!at_rest(&server.data, NAME.as_bytes()));
        is_well(&server);
    };
    holds();
    // A device that does not know of it pushes the whole entries again.
    other.push_all(&[spoken, photo.clone()]);
    holds();
}

#[test]
fn an_entry_of_another_subject_is_not_blanked() {
    let (_folder, server) = server();
    let mut pen = Pen::new(1);
    let device = server.join(pen.device);
    let job = pen.whole_job(b"");
    let said = note(&mut pen, job.job, &format!("{NAME} calls"));
    device.push_all(&job.entries);
    device.push_all(slice::from_ref(&said));
    let before = records(&device);
    let aimed = MentionErased {
        entry: said.id,
        left: None,
    };
    let aimed = pen.entry(SubjectKind::Ticket, job.ticket, &Body::MentionErased(aimed));
    device.push_all(slice::from_ref(&aimed));
    assert_eq!(records(&device), [before, vec![aimed]].concat());
    assert_eq!(codes(&device, &[blanked(&said)]), ["erasure_unknown"]);
}

#[test]
fn a_blank_copy_is_taken_once_its_mention_is_erased() {
    let (_folder, server) = server();
    let mut pen = Pen::new(1);
    let device = server.join(pen.device);
    let job = pen.subject();
    let [stored, never_sent, together] =
        ["calls", "waits", "pays"].map(|does| note(&mut pen, job, &format!("{NAME} {does}")));
    let of = |pen: &mut Pen, entry: &Entry| erasing(pen, entry, Some(json!({ "text": "…" })));
    device.push_all(slice::from_ref(&stored));
    for said in [&stored, &never_sent] {
        assert_eq!(codes(&device, &[blanked(said)]), ["erasure_unknown"]);
        assert_eq!(codes(&device, &[of(&mut pen, said), blanked(said)]), ["", ""]);
    }
    // The order within one batch does not matter.
    let batch = [blanked(&together), of(&mut pen, &together)];
    assert_eq!(codes(&device, &batch), ["", ""]);
    let blank = records(&device).into_iter().filter(Entry::is_blank);
    let blank: BTreeSet<_> = blank.map(|entry| entry.id).collect();
    assert_eq!(blank, BTreeSet::from([stored.id, never_sent.id, together.id]));
    is_well(&server);
}

#[test]
fn a_helper_s_waits_for_a_repairer() {
    let mut bench = bench();
    let said = bench.note(&format!("{NAME} calls"));
    assert_eq!(codes(&bench.helper, slice::from_ref(&said)), [""]);
    let before = bench.records();
    let erased = erasing(&mut bench.helpers_pen, &said, Some(json!({ "text": "… calls" })));
    assert_eq!(codes(&bench.helper, slice::from_ref(&erased)), [KEPT]);
    assert_eq!(codes(&bench.helper, &[blanked(&said)]), ["erasure_unknown"]);
    assert_eq!(bench.records(), before, "it has no effect yet");
    assert_eq!(bench.kept(), slice::from_ref(&erased));

    let decision = KeptAsideDecision {
        take: vec![erased.id],
        drop: Vec::new(),
    };
    let decided: KeptAsideDecided = bench.repairer.post("/api/v1/kept-aside", &decision).read(200);
    assert_eq!(decided.taken.len(), 1);
    assert_eq!(
        bench.records(),
        [with_blank(before, said.id), vec![erased]].concat()
    );
}

#[test]
fn mentions_have_a_number_a_day_of_their_own() {
    let (_folder, server) = server();
    let mut pen = Pen::new(1);
    let device = server.join(pen.device);
    let job = pen.subject();
    let said: Vec<_> = (0..=MAX_ERASED_MENTIONS)
        .map(|_| note(&mut pen, job, NAME))
        .collect();
    device.push_all(&said);
    let erased: Vec<_> = said.iter().map(|of| erasing(&mut pen, of, None)).collect();
    let mut expected = vec![""; MAX_ERASED_MENTIONS];
    expected.push(BEYOND);
    assert_eq!(codes(&device, &erased), expected);
    let (last, first) = (&said[MAX_ERASED_MENTIONS], &said[0]);
    let full = records(&device)
        .into_iter()
        .filter(|entry| entry.kind == "note" && !entry.is_blank());
    assert_eq!(full.collect::<Vec<_>>(), slice::from_ref(last));

    // What is erased already does not count, and another device of the shop has no number of its own.
    let mut other_pen = Pen::new(2);
    let other = server.join(other_pen.device);
    let again = [first, last].map(|of| erasing(&mut other_pen, of, None));
    assert_eq!(codes(&other, &again), ["", BEYOND]);
    // Subjects are counted apart.
    let of_customers: Vec<_> = (0..=MAX_ERASED_SUBJECTS)
        .map(|_| {
            let customer = pen.subject();
            pen.entry(SubjectKind::Customer, customer, &Body::Erased(Erased::default()))
        })
        .collect();
    let mut expected = vec![""; MAX_ERASED_SUBJECTS];
    expected.push(BEYOND);
    assert_eq!(codes(&device, &of_customers), expected);
}

#[test]
fn an_older_backup_brings_no_mention_back() {
    let (folder, server) = server();
    let mut pen = Pen::new(1);
    let device = server.join(pen.device);
    let job = pen.whole_job(b"");
    let said = note(&mut pen, job.job, &format!("{NAME} calls"));
    device.push_all(&job.entries);
    device.push_all(slice::from_ref(&said));
    let backup = folder.path().join("before.tar");
    assert!(server.run(&["backup", backup.to_str().unwrap()]).status.success());
    let erased = erasing(&mut pen, &said, Some(json!({ "text": "… calls" })));
    device.push_all(slice::from_ref(&erased));
    let after = records(&device);
    assert!(after.contains(&blanked(&said)));
    let data = server.data.clone();
    server.stop();

    let out = run(WAXEND, &data, &["restore", "--replace", backup.to_str().unwrap()]);
    assert!(out.status.success(), "{}", String::from_utf8_lossy(&out.stderr));
    let server = Server::start(WAXEND, &data, &[]);
    let device = device.at(&server);
    assert_eq!(records(&device), after);
    device.push_all(&[said, erased]);
    assert_eq!(records(&device), after);
    assert!(!at_rest(&data, NAME.as_bytes()));
    let ledger = std::fs::read_to_string(data.join("erased.jsonl")).unwrap();
    assert_eq!(ledger.matches("mention_erased").count(), 1, "{ledger}");
    is_well(&server);
}

/// As after an update from a version that kept such an entry without reading it, or when the ledger was lost.
#[test]
fn the_records_alone_tell_the_server_at_its_start_what_was_erased() {
    let (_folder, server) = server();
    let mut pen = Pen::new(1);
    let device = server.join(pen.device);
    let job = pen.subject();
    let said = note(&mut pen, job, &format!("{NAME} calls"));
    device.push_all(slice::from_ref(&said));
    let erased = erasing(&mut pen, &said, None);
    device.push_all(slice::from_ref(&erased));
    let after = records(&device);
    let data = server.data.clone();
    server.stop();
    std::fs::remove_file(data.join("erased.jsonl")).unwrap();
    let server = Server::start(WAXEND, &data, &[]);
    let device = device.at(&server);
    device.push_all(slice::from_ref(&said));
    assert_eq!(records(&device), after);
    is_well(&server);
}

#[test]
fn a_section_of_a_card_goes_with_its_mention() {
    let (_folder, server) = server();
    let mut pen = Pen::new(1);
    let device = server.join(pen.device);
    let bytes = picture(1, 3000);
    let job = pen.whole_job(&bytes);
    device.push_all(&job.entries);
    let hash = device.put_picture(&bytes);
    let (stranger, card) = (server.stranger(), format!("/card/{}", job.secret));
    let page = stranger.get(&card);
    assert!(page.status == 200 && page.text().contains("Brown derby"));
    let is_section = |entry: &&Entry| entry.kind == "published";
    let section = job.entries.iter().find(is_section).unwrap();
    device.push_all(&[erasing(&mut pen, section, None)]);
    let page = stranger.get(&card);
    assert_eq!(page.status, 404);
    let text = page.text();
    assert!(
        text.contains("not ready yet") && !text.contains("Brown derby"),
        "{text}"
    );
    assert_eq!(stranger.get(&format!("{card}/photo/{hash}")).status, 404);
    let kept = device.get(&format!("/api/v1/blobs/{hash}"));
    assert_eq!(kept.status, 200, "devices still have the photograph");
}

/// Whichever kind of subject it names, and alone in its batch too.
#[test]
fn of_the_shop_no_mention_is_erased() {
    let mut bench = bench();
    let before = bench.records();
    let named = MentionErased {
        entry: before[0].id,
        left: None,
    };
    for kind in SubjectKind::KNOWN {
        let body = Body::MentionErased(named.clone());
        let erased = bench.pen.entry(kind.clone(), bench.shop, &body);
        assert_eq!(codes(&bench.repairer, &[erased]), ["not_erasable"], "{kind}");
    }
    assert_eq!(bench.records(), before);
}

/// What is left of an entry can say that it erases a mention in another one, and so on.
#[test]
fn each_mention_that_one_entry_erases_counts() {
    let (_folder, server) = server();
    let mut pen = Pen::new(1);
    let device = server.join(pen.device);
    let job = pen.subject();
    let mut three = || {
        let said = [(); 3].map(|()| note(&mut pen, job, NAME));
        let left = json!({ "entry": said[1].id, "left": { "entry": said[2].id } });
        erasing(&mut pen, &said[0], Some(left))
    };
    let erased: Vec<_> = (0..=MAX_ERASED_MENTIONS / 3).map(|_| three()).collect();
    let mut expected = vec![""; MAX_ERASED_MENTIONS / 3];
    expected.push(BEYOND);
    assert_eq!(codes(&device, &erased), expected);
}

/// An erased mention is blanked for another one only if that says again what it erased, and a request for an erasure
/// never: only a retraction calls it off.
#[test]
fn an_erased_mention_and_a_request_are_not_blanked_for_a_mention() {
    let (_folder, server) = server();
    let mut pen = Pen::new(1);
    let device = server.join(pen.device);
    let job = pen.subject();
    let said = note(&mut pen, job, NAME);
    let erased = erasing(&mut pen, &said, Some(json!({ "text": "… and Ada Example" })));
    let asked = Body::ErasureAsked(ErasureAsked { blob: None });
    let asked = pen.entry(SubjectKind::Job, job, &asked);
    device.push_all(&[said.clone(), erased.clone(), asked.clone()]);
    let before = records(&device);
    let aimed = [&erased, &asked].map(|of| erasing(&mut pen, of, Some(json!({ "text": "…" }))));
    device.push_all(&aimed);
    assert_eq!(records(&device), [before, aimed.to_vec()].concat());
    let unknown = ["erasure_unknown", "erasure_unknown"];
    assert_eq!(codes(&device, &[blanked(&erased), blanked(&asked)]), unknown);

    let left = json!({ "entry": said.id, "left": { "text": "… and …" } });
    let again = erasing(&mut pen, &erased, Some(left));
    device.push_all(&[again]);
    let blank = records(&device).into_iter().filter(Entry::is_blank);
    let blank: Vec<_> = blank.map(|entry| entry.id).collect();
    assert_eq!(blank, [said.id, erased.id]);
    is_well(&server);
}
