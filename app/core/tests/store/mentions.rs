//! What entries say of a person who is erased: it is found anywhere on the device, and erased without what stands beside
//! it.

use std::collections::BTreeSet;
use std::slice;

use crate::common::*;
use app_core::commands::forget;
use app_core::store::kv::{Row, RowValue};
use app_core::store::memory::{Memory, now};
use app_core::store::{Compacted, NewBlob, tables};
use serde_json::json;
use shared::log::body::{Body, Damage, MentionErased, Note, Role, Seen, Side, Step, field};
use shared::log::fold::JobState;
use shared::log::mentions::PersonNames;
use shared::log::{Draft, EntryId, ReceivedEntry, Subject};
use shared::sync::Code;

/// A kind that no app knows.
const UNKNOWN_KIND: &str = "kind_of_a_later_app";

fn names() -> PersonNames {
    PersonNames::new(["Ottoline Brack"], ["030 555 0142"])
}

fn note(subject: &Subject, text: &str) -> Draft {
    let said = Note {
        of: None,
        text: text.to_owned(),
        voice: None,
    };
    Draft::new(subject.clone(), Body::Note(said))
}

fn damage(job: &Subject, note: &str) -> Draft {
    let found = Damage {
        part: "insole".to_owned(),
        condition: "cracked".to_owned(),
        side: Side::Left,
        seen: Seen::Inside,
        decision: None,
        pays: None,
        note: note.to_owned(),
    };
    Draft::new(job.clone(), Body::Damage(found))
}

/// A step with a remark.
fn step_with(job: &Subject, note: &str) -> Draft {
    let done = Step {
        cement: None,
        line: None,
        operation: "half_sole".into(),
        side: Side::Both,
        note: note.to_owned(),
        minutes: Some(25),
        used: Vec::new(),
    };
    Draft::new(job.clone(), Body::Step(done))
}

/// A spoken remark, and what was said.
fn spoken(job: &Subject, text: &str) -> (Draft, NewBlob) {
    let voice = blob("what was said");
    let said = Note {
        of: None,
        text: text.to_owned(),
        voice: Some(voice.about.clone()),
    };
    (Draft::new(job.clone(), Body::Note(said)), voice)
}

/// Erases a customer and all that the device finds of [`names`] elsewhere.
fn erase(device: &Device, customer: &Subject) -> Vec<ReceivedEntry> {
    let without = BTreeSet::from([customer.id]);
    let mentions = now(device.store.mentions(&names(), &without)).unwrap();
    device.save(forget::erase(slice::from_ref(customer), &[], &mentions, None))
}

/// The job as the device shows it.
fn job(device: &Device, taken: &Taken) -> JobState {
    let life = now(device.store.pair_history(taken.pair.id)).unwrap();
    life.jobs.get(&taken.job.id).unwrap().clone()
}

/// The remarks on the job.
fn remarks(device: &Device, taken: &Taken) -> Vec<String> {
    let notes = job(device, taken).notes.into_iter();
    notes.map(|item| item.body.text).collect()
}

fn kinds(entries: &[ReceivedEntry]) -> Vec<&str> {
    entries.iter().map(|held| held.entry.kind.as_str()).collect()
}

/// Whether any row on the device contains the name.
fn says_name(kv: &Memory) -> bool {
    ["Brack", "brack"]
        .iter()
        .any(|word| !tables_with(kv, word).is_empty())
}

#[test]
fn mentions_are_found_in_the_tail_and_in_the_archive() {
    let device = Device::new(1);
    let pairs: Vec<_> = (0..12).map(|_| taken_in(&device)).collect();
    let (closed, open) = (&pairs[1], &pairs[0]);
    let archived = device.save(vec![
        note(&closed.job, "as OTTOLINE BRACK asked"),
        damage(&closed.job, "Mrs Brack knows"),
        Draft::new(closed.ticket.clone(), detail(field::SHELF, "beside Brack's")),
    ]);
    device.save(vec![
        note(&closed.customer, "Brack is a cousin"),
        note(&closed.job, "a bracket of brass"),
    ]);
    device.save(pairs[1..].iter().map(|taken| hand_over(&taken.job)).collect());
    acknowledge_by(20, &device, MORNING);
    while now(device.store.compact()).unwrap() == Compacted::Partly {}
    let in_tail = |id: EntryId| {
        let rows = device.kv.rows(tables::TAIL);
        rows.iter().any(|row| row.key == id.to_string())
    };
    assert!(archived.iter().all(|held| !in_tail(held.entry.id)));
    let live = device.save(vec![
        step_with(&open.job, "ring +00 (30) 555 01 42 first"),
        note(&open.pair, "lent to Ottoline"),
    ]);
    let shop = now(device.store.shop_subject()).unwrap();
    device.save(vec![Draft::new(
        shop,
        detail(field::TERMS, "Ask Ottoline Brack."),
    )]);
    // What is in the tail and in the archive is found once.
    now(device.store.mark_unsent(&[archived[0].entry.id])).unwrap();
    assert!(in_tail(archived[0].entry.id));

    let without = BTreeSet::from([closed.customer.id]);
    let found = now(device.store.mentions(&names(), &without)).unwrap();
    let found = found
        .iter()
        .map(|(held, mention)| (held.entry.id, mention.certain));
    let of = |held: &ReceivedEntry, certain| (held.entry.id, certain);
    let expected = [
        of(&archived[0], true),
        of(&archived[1], false),
        of(&archived[2], false),
        of(&live[0], true),
        of(&live[1], false),
    ];
    assert_eq!(found.collect::<Vec<_>>(), expected);
    let theirs = now(device.store.mentions(&names(), &BTreeSet::new())).unwrap();
    assert_eq!(theirs.len(), expected.len() + 1, "the customer's own record too");
}

#[test]
fn a_phone_alone_erases_a_person_and_every_mention_at_once() {
    let device = Device::new(1);
    let (theirs, other) = (taken(&device), taken(&device));
    device.save(drop_off(&theirs, "Ottoline Brack", "boot"));
    device.save(drop_off(&other, "A. Example", "derby like Ottoline Brack's"));
    device.save(vec![step_with(&other.job, "as Brack asked")]);
    let (picture, blobs) = photo(&other.job, "heel");
    let (remark, voice) = spoken(&other.job, "Brack calls on Monday");
    let pictured = blobs.iter().chain([&voice]).map(|blob| blob.about.sha256.clone());
    let pictured: Vec<_> = pictured.collect();
    now(device.store.save(vec![picture], blobs)).unwrap();
    now(device.store.save(vec![remark], vec![voice.clone()])).unwrap();
    assert_eq!(now(device.store.find("brack")).unwrap().len(), 2);

    let erased = erase(&device, &theirs.customer);
    let expected = ["mention_erased", "mention_erased", "mention_erased", "erased"];
    assert_eq!(kinds(&erased), expected);
    assert!(!says_name(&device.kv));
    assert!(now(device.store.find("brack")).unwrap().is_empty());
    assert_eq!(now(device.store.find("derby")).unwrap(), [other.pair.id]);
    let life = now(device.store.pair_history(other.pair.id)).unwrap();
    assert_eq!(life.pair.look(), Some("derby like …'s"));
    let state = job(&device, &other);
    assert_eq!(
        state.steps.iter().map(|step| &step.body).collect::<Vec<_>>(),
        [&Step {
            cement: None,
            line: None,
            operation: "half_sole".into(),
            side: Side::Both,
            note: "as … asked".to_owned(),
            minutes: Some(25),
            used: Vec::new(),
        }]
    );
    let said: Vec<_> = state.notes.into_iter().map(|item| item.body).collect();
    let left = Note {
        of: None,
        text: "… calls on Monday".to_owned(),
        voice: Some(voice.about),
    };
    assert_eq!(said, [left]);
    assert_eq!(state.photos.len(), 1);
    for hash in &pictured {
        assert!(
            now(device.store.blob(hash)).unwrap().is_some(),
            "photographs and voice notes stay"
        );
    }
    assert_eq!(stored_summaries(&device.kv), fresh_summaries(&device.kv));
    // A server takes a blank entry only after what explains it.
    assert_eq!(kinds(&unsent(&device))[..4], expected);
    assert!(
        now(device.store.mentions(&names(), &BTreeSet::new()))
            .unwrap()
            .is_empty()
    );
}

#[test]
fn a_joined_phone_erases_no_mention_before_the_server_has_accepted_it() {
    let (mut device, taken) = joined(Role::Repairer);
    let said = device
        .save(vec![note(&taken.job, "as Ottoline Brack asked")])
        .remove(0);
    acknowledge(&device, MORNING);
    let before = held(&device.kv);
    erase(&device, &taken.customer);
    device.restart();
    assert_eq!(held(&device.kv), before);
    assert_eq!(remarks(&device, &taken), ["as Ottoline Brack asked"]);
    let waiting = now(device.store.erasures_waiting()).unwrap();
    assert_eq!(waiting.mentions, BTreeSet::from([(taken.job.id, said.entry.id)]));
    let offered = unsent(&device);
    assert_eq!(kinds(&offered), ["mention_erased", "erased"]);

    // Beyond those of a day it waits for a person to send it again.
    refuse(&device, &offered[0], Code::TooManyErasures);
    assert_eq!(remarks(&device, &taken), ["as Ottoline Brack asked"]);
    assert_eq!(now(device.store.refused()).unwrap().len(), 1);
    now(device.store.retry_refused()).unwrap();
    assert_eq!(unsent(&device), offered);

    acknowledge(&device, MORNING);
    assert_eq!(remarks(&device, &taken), ["as … asked"]);
    assert!(!says_name(&device.kv));
    assert!(now(device.store.erasures_waiting()).unwrap().is_empty());
    assert_eq!(stored_summaries(&device.kv), fresh_summaries(&device.kv));
}

#[test]
fn what_another_device_erases_is_blank_here_whichever_comes_first() {
    let first = Device::new(1);
    let taken = taken_in(&first);
    first.save(vec![note(&taken.job, "as Ottoline Brack asked")]);
    let full = unsent(&first);
    let erased = erase(&first, &taken.customer).remove(0);
    assert_eq!(erased.entry.kind, "mention_erased");
    for all in [
        [&full[..], slice::from_ref(&erased)].concat(),
        [slice::from_ref(&erased), &full[..]].concat(),
    ] {
        let device = Device::new(2);
        join(&device, Role::Helper);
        for held in &all {
            send(&device, held);
        }
        assert_eq!(remarks(&device, &taken), ["as … asked"]);
        assert!(!says_name(&device.kv));
        assert_eq!(stored_summaries(&device.kv), fresh_summaries(&device.kv));
    }
}

/// Writes the erasing of a remark as an app that does not know the kind would have kept it.
fn keep_as_unknown(device: &Device, of: &ReceivedEntry) {
    let erased = MentionErased {
        entry: of.entry.id,
        left: Some(json!({ "text": "as … asked" })),
    };
    let body = Body::MentionErased(erased).to_text().unwrap();
    let subject = of.entry.subject.clone();
    now(device.store.save_raw(subject, UNKNOWN_KIND, 1, &body)).unwrap();
}

/// The app is replaced by this version, from one whose fold had version 10 and that kept `mention_erased` without
/// reading it.
fn update(device: &mut Device) {
    for table in [tables::TAIL, tables::BLOCKS] {
        for row in device.kv.rows(table) {
            let text = row.as_text().unwrap().replace(UNKNOWN_KIND, "mention_erased");
            let value = RowValue::Text(text);
            device.kv.plant(table, Row { value, ..row });
        }
    }
    for (table, key) in [(tables::META, Some("state")), (tables::PAIRS, None)] {
        let rows = device.kv.rows(table).into_iter();
        for row in rows.filter(|row| key.is_none_or(|key| row.key == key)) {
            let mut value: serde_json::Value = serde_json::from_str(row.as_text().unwrap()).unwrap();
            value["fold_version"] = json!(10);
            let value = RowValue::Text(value.to_string());
            device.kv.plant(table, Row { value, ..row });
        }
    }
    device.restart();
}

#[test]
fn a_phone_whose_app_did_not_know_mentions_erases_them_after_its_update() {
    let mut device = Device::new(1);
    let pairs: Vec<_> = (0..10).map(|_| taken_in(&device)).collect();
    let remark = |taken: &Taken| {
        device
            .save(vec![note(&taken.job, "as Ottoline Brack asked")])
            .remove(0)
    };
    let said = remark(&pairs[0]);
    keep_as_unknown(&device, &said);
    acknowledge(&device, MORNING);
    assert!(device.kv.rows(tables::TAIL).is_empty(), "all of it is archived");
    keep_as_unknown(&device, &remark(&pairs[1]));
    acknowledge(&device, MORNING);
    assert_eq!(device.kv.rows(tables::TAIL).len(), 2);

    update(&mut device);
    assert!(says_name(&device.kv), "nothing is erased yet");
    now(device.store.rebuild_summaries()).unwrap();
    for taken in &pairs[..2] {
        assert_eq!(remarks(&device, taken), ["as … asked"]);
    }
    assert!(!says_name(&device.kv));
    assert!(now(device.store.find("brack")).unwrap().is_empty());
    assert_eq!(stored_summaries(&device.kv), fresh_summaries(&device.kv));
    // What comes again later is blanked as on any other phone.
    send(&device, &said);
    assert_eq!(remarks(&device, &pairs[0]), ["as … asked"]);
    assert!(!says_name(&device.kv));
}
