//! Entries that this version does not know survive byte for byte; erased content does not survive anywhere.

use crate::support::*;
use proptest::prelude::*;
use shared::log::body::{Blob, Erased, ErasureAsked, Photo, Shows, Side};
use shared::log::fold::{CustomerState, Entries, JobState, erasures_asked};
use shared::log::{Body, Entry, Erasures, ReceivedEntry, Subject, SubjectKind, about};

fn body_text() -> impl Strategy<Value = String> {
    prop_oneof![
        // Valid JSON in an unusual format, which a reader that reformats would change.
        Just(" {\"hours\" : 1.0e1,\n\t\"bath\":\"\\u0074epid\" , \"a\":1, \"a\":2 }".to_owned()),
        ".{0,80}",
    ]
}

proptest! {
    #[test]
    fn unknown_kinds_and_fields_survive_the_wire_byte_for_byte(body in body_text(), kind in "[a-z_0-9]{1,20}", version in 0u32..9) {
        let mut made = entry(0, pair(1), 7, 0, &detail("colour", "tan"));
        (made.kind, made.version, made.body) = (kind, version, body);
        let held = ReceivedEntry::unsent(made);
        let text = serde_json::to_string(&held).expect("writes");
        let back: ReceivedEntry = serde_json::from_str(&text).expect("reads");
        prop_assert_eq!(back, held);
    }

    #[test]
    fn a_word_of_a_newer_app_survives_reading_and_writing(word in "[a-z_]{1,20}") {
        let side: Side = serde_json::from_value(word.clone().into()).expect("any word");
        prop_assert_eq!(serde_json::to_value(&side).expect("writes"), serde_json::Value::from(word));
    }

    #[test]
    fn reading_a_body_never_fails(body in ".{0,200}", kind in "opened|detail|agreed|photo|step|published|retracted|same_as|erased|erasure_asked|mention_erased") {
        let mut made = entry(0, pair(1), 7, 0, &detail("colour", "tan"));
        (made.kind, made.body) = (kind, body);
        let held = ReceivedEntry::unsent(made);
        prop_assert_eq!(about(&held.entry)[0], held.entry.subject.id);
        let _state = JobState::of([&held]);
    }

    #[test]
    fn nothing_brings_erased_content_back(order in Just(vec![0usize, 1, 2, 3, 4]).prop_shuffle(), again in 0usize..5) {
        let customer = Subject::new(SubjectKind::Customer, subject_id(3));
        let named = |n, ms| ReceivedEntry::unsent(entry(n, customer.clone(), ms, 0, &detail("name", "Ottoline Brack")));
        let erasure = ReceivedEntry::unsent(entry(2, customer.clone(), 50, 1, &Body::Erased(Erased::default())));
        let other = ReceivedEntry::unsent(entry(4, pair(1), 5, 0, &detail("colour", "tan")));
        let stream = [named(0, 1), named(1, 90), erasure, named(3, 10), other];

        // Arrivals in any order, and one of them again at the end, as after a stale push or a restored backup.
        let mut ledger = Erasures::default();
        let mut kept = Entries::default();
        for index in order.into_iter().chain([again]) {
            let mut held = stream[index].clone();
            ledger.note(&held.entry);
            ledger.blank(&mut held.entry);
            kept.take(held);
            kept = kept.iter().cloned().map(|mut held| { ledger.blank(&mut held.entry); held }).collect();
        }
        let text = serde_json::to_string(&kept.iter().collect::<Vec<_>>()).expect("writes");
        prop_assert!(!text.contains("Ottoline"));
        let state = CustomerState::of(kept.iter().filter(|held| held.entry.subject == customer));
        prop_assert!(state.erased);
        prop_assert_eq!(state.name(), None);
        prop_assert!(text.contains("tan"), "and nothing else is touched");
    }
}

#[test]
fn an_erasure_cannot_be_retracted() {
    let customer = Subject::new(SubjectKind::Customer, subject_id(3));
    let erasure = ReceivedEntry::unsent(entry(0, customer.clone(), 1, 0, &Body::Erased(Erased::default())));
    let retraction = ReceivedEntry::unsent(entry(1, customer, 2, 0, &retracted(0)));
    assert!(CustomerState::of(&[erasure, retraction]).erased);
}

#[test]
fn a_request_for_an_erasure_stands_until_it_is_called_off_or_fulfilled() {
    let customer = Subject::new(SubjectKind::Customer, subject_id(3));
    let says = |n, body: &Body| ReceivedEntry::unsent(entry(n, customer.clone(), i64::from(n), 0, body));
    let named = says(0, &detail("name", "Ottoline Brack"));
    let mut request = says(1, &Body::ErasureAsked(ErasureAsked::default()));
    let state = CustomerState::of([&named, &request]);
    assert_eq!(state.erasures_asked[0].entry, entry_id(1));
    assert_eq!((state.name(), state.erased), (Some("Ottoline Brack"), false));

    let off = says(2, &retracted(1));
    let erasure = says(3, &Body::Erased(Erased::default()));
    for answer in [&off, &erasure] {
        assert!(CustomerState::of([&request, answer]).erasures_asked.is_empty());
    }
    assert_eq!(
        erasures_asked([&request, &erasure]).len(),
        1,
        "nobody called it off"
    );

    let mut erasures = Erasures::default();
    erasures.note(&erasure.entry);
    assert!(erasures.blank(&mut request.entry), "it goes with its subject");
}

#[test]
fn a_hash_in_capitals_names_the_same_blob() {
    let hash = "ab".repeat(32);
    let capitals = hash.to_uppercase();
    let job = Subject::new(SubjectKind::Job, subject_id(5));
    let photo = |n, hash: &str| {
        let blob = Blob {
            sha256: hash.to_owned(),
            media_type: "image/jpeg".to_owned(),
            bytes: 9,
            width: 4,
            height: 3,
        };
        let body = Body::Photo(Photo::new(blob.clone(), blob, Shows::Step));
        ReceivedEntry::unsent(entry(n, job.clone(), 1, 0, &body))
    };
    let erasure = |n, hash: &str| {
        let body = Body::Erased(Erased {
            blob: Some(hash.to_owned()),
        });
        ReceivedEntry::unsent(entry(n, job.clone(), 2, 0, &body))
    };
    for (shown, erased) in [(&hash, &capitals), (&capitals, &hash), (&capitals, &capitals)] {
        let (photo, erasure) = (photo(0, shown), erasure(1, erased));
        assert!(
            erasure.entry.body.contains(erased.as_str()),
            "the text stays as it came"
        );
        let mut erasures = Erasures::default();
        assert!(erasures.note(&erasure.entry) && erasures.covers_blob(&hash));
        let state = JobState::of(&[photo, erasure]);
        assert_eq!((state.photos.len(), state.destroyed_photos.len()), (0, 1));
    }
    let asked = Body::ErasureAsked(ErasureAsked {
        blob: Some(capitals.clone()),
    });
    let asked = Body::of(&entry(2, job, 3, 0, &asked));
    assert!(matches!(asked, Body::ErasureAsked(asked) if asked.blob.as_deref() == Some(hash.as_str())));
    // As an earlier version may have stored it.
    let stored = serde_json::json!({ "subjects": [], "blobs": [capitals] });
    let stored: Erasures = serde_json::from_value(stored).expect("reads");
    assert!(stored.covers_blob(&hash));
}

#[test]
fn an_envelope_with_a_field_we_do_not_know_is_refused_rather_than_stripped() {
    let made = entry(0, pair(1), 7, 0, &detail("colour", "tan"));
    let mut value = serde_json::to_value(&made).expect("writes");
    value["urgency"] = 3.into();
    assert!(serde_json::from_value::<Entry>(value).is_err());
}

#[test]
fn envelopes_outside_the_rules_are_named() {
    let good = entry(0, pair(1), 7, 0, &detail("colour", "tan"));
    assert_eq!(good.check(), Ok(()));
    type Breaks = fn(&mut Entry);
    let broken: [(&str, Breaks); 8] = [
        ("negative time", |e| e.stamp.ms.0 = -1),
        ("time beyond what JSON keeps", |e| e.made_at.utc.0 = 1 << 53),
        ("offset of two days", |e| e.made_at.offset_min = 2_880),
        ("kind in capitals", |e| e.kind = "Detail".to_owned()),
        ("no kind", |e| e.kind.clear()),
        ("a kind of subject longer than any word", |e| {
            e.subject.kind = SubjectKind::Other("x".repeat(65))
        }),
        ("body too long", |e| e.body = "x".repeat(Entry::MAX_BODY + 1)),
        ("running number 0", |e| e.device_seq = 0),
    ];
    for (what, breaks) in broken {
        let mut bad = good.clone();
        breaks(&mut bad);
        assert!(bad.check().is_err(), "{what}");
    }
}
