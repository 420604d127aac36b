//! A second person is mentioned in an entry: what was left of it after the first erasure is erased in turn. The entry
//! that erased the first mention is then blank itself, and the second one says again what that one has erased.

use crate::common::*;
use app_core::store::memory::now;
use serde_json::{Value, json};
use shared::log::body::{Body, MentionErased, Note, Role};
use shared::log::{Draft, ReceivedEntry, Subject};

fn note(subject: &Subject, text: &str) -> Draft {
    let said = Note {
        of: None,
        text: text.to_owned(),
        voice: None,
    };
    Draft::new(subject.clone(), Body::Note(said))
}

/// Erases what an entry mentions, and keeps `left` of it.
fn erasing(of: &ReceivedEntry, left: Option<Value>) -> Draft {
    let entry = of.entry.id;
    Draft::new(
        of.entry.subject.clone(),
        Body::MentionErased(MentionErased { entry, left }),
    )
}

/// What is left of an entry that erased a mention in `of`.
fn again(of: &ReceivedEntry, left: &Value) -> Option<Value> {
    Some(json!({ "entry": of.entry.id, "left": left }))
}

fn blanked(held: &ReceivedEntry) -> ReceivedEntry {
    let mut copy = held.clone();
    copy.entry.body.clear();
    copy
}

/// The remarks on the job.
fn remarks(device: &Device, taken: &Taken) -> Vec<String> {
    let life = now(device.store.pair_history(taken.pair.id)).unwrap();
    let notes = &life.jobs.get(&taken.job.id).unwrap().notes;
    notes.iter().map(|item| item.body.text.clone()).collect()
}

/// A device that has joined, with a remark that mentions two people, and the erasure of the first mention, which the
/// server has accepted.
fn once_erased() -> (Device, Taken, ReceivedEntry, ReceivedEntry) {
    let (device, taken) = joined(Role::Repairer);
    let said = device.save(vec![note(&taken.job, "Brack and Thorn share these")]);
    let first = erasing(&said[0], Some(json!({ "text": "… and Thorn share these" })));
    let first = device.save(vec![first]).remove(0);
    acknowledge(&device, MORNING);
    assert_eq!(remarks(&device, &taken), ["… and Thorn share these"]);
    (device, taken, said[0].clone(), first)
}

#[test]
fn what_an_erased_mention_had_left_is_erased_in_turn() {
    let (device, taken, said, first) = once_erased();
    let left = again(&said, &json!({ "text": "… and … share these" }));
    device.save(vec![erasing(&first, left)]);
    acknowledge(&device, MORNING);
    assert_eq!(remarks(&device, &taken), ["… and … share these"]);
    assert!(tables_with(&device.kv, "Thorn").is_empty());
    assert_eq!(stored_summaries(&device.kv), fresh_summaries(&device.kv));
}

/// Otherwise nobody who reads the log later could explain why the remark is blank.
#[test]
fn an_erased_mention_stays_if_what_it_erased_is_not_named_again() {
    let (device, taken, said, first) = once_erased();
    let other = device.save(vec![note(&taken.job, "Beside")]).remove(0);
    for left in [
        None,
        Some(json!({ "text": "…" })),
        again(&other, &json!({ "text": "Beside" })),
    ] {
        device.save(vec![erasing(&first, left)]);
    }
    acknowledge(&device, MORNING);
    let kept = held(&device.kv);
    let kept = kept.iter().find(|held| held.entry.id == first.entry.id).unwrap();
    assert_eq!(kept.entry, first.entry);

    // A copy without content is as if it had not come, and a new device reads the log as it is here.
    let later = Device::new(2);
    join(&later, Role::Helper);
    for one in [blanked(&said), blanked(&first)].iter().chain(&held(&device.kv)) {
        send(&later, one);
    }
    assert_eq!(remarks(&device, &taken), ["… and Thorn share these"]);
    assert_eq!(remarks(&later, &taken), remarks(&device, &taken));
}

/// The server may keep the first erasure for a repairer, who never sees it: its content is erased meanwhile.
#[test]
fn what_is_left_shows_where_the_first_erasure_is_missing() {
    let (device, taken, said, first) = once_erased();
    let left = again(&said, &json!({ "text": "… and … share these" }));
    let second = device.save(vec![erasing(&first, left)]).remove(0);
    let later = Device::new(2);
    join(&later, Role::Helper);
    let all = held(&device.kv).into_iter();
    for held in all.filter(|held| held.entry.id != first.entry.id && held.entry.id != said.entry.id) {
        send(&later, &held);
    }
    send(&later, &blanked(&said));
    assert!(remarks(&later, &taken).is_empty(), "it is not explained yet");
    send(&later, &second);
    assert_eq!(remarks(&later, &taken), ["… and … share these"]);
    assert_eq!(stored_summaries(&later.kv), fresh_summaries(&later.kv));
}

/// That one of the mentions is erased already does not make the other one so.
#[test]
fn all_that_one_entry_erases_waits_for_the_server() {
    let (device, taken, said, _) = once_erased();
    let other = device.save(vec![note(&taken.job, "Thorn waits")]).remove(0);
    acknowledge(&device, MORNING);
    device.save(vec![erasing(&said, again(&other, &json!({ "text": "… waits" })))]);
    assert_eq!(
        remarks(&device, &taken),
        ["… and Thorn share these", "Thorn waits"],
        "nothing is erased before the server knows of it"
    );
    acknowledge(&device, MORNING);
    assert_eq!(
        remarks(&device, &taken),
        ["… and Thorn share these"],
        "both are erased"
    );
}

#[test]
fn a_voice_note_that_was_left_goes_with_its_subject() {
    let (device, taken) = joined(Role::Repairer);
    let voice = blob("what was said");
    let spoken = |text: &str| Note {
        of: None,
        text: text.to_owned(),
        voice: Some(voice.about.clone()),
    };
    let draft = Draft::new(taken.job.clone(), Body::Note(spoken("Brack and Thorn")));
    let said = now(device.store.save(vec![draft], vec![voice.clone()])).unwrap();
    let left = |text: &str| serde_json::to_value(spoken(text)).unwrap();
    let first = erasing(&said.entries[0], Some(left("… and Thorn")));
    let first = device.save(vec![first]).remove(0);
    device.save(vec![erasing(&first, again(&said.entries[0], &left("… and …")))]);
    acknowledge(&device, MORNING);
    let hash = &voice.about.sha256;
    assert_eq!(remarks(&device, &taken), ["… and …"]);
    assert!(
        now(device.store.blob(hash)).unwrap().is_some(),
        "no mention destroys it"
    );

    now(device.store.erase(vec![taken.job], None)).unwrap();
    acknowledge(&device, MORNING);
    assert_eq!(now(device.store.blob(hash)).unwrap(), None);
}
