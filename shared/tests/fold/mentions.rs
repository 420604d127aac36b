//! Mentions of a person in entries, and what remains of an entry without them.

use shared::log::body::{Body, MentionErased, Note, Step};
use shared::log::fold::JobState;
use shared::log::mentions::PersonNames;
use shared::log::{Entry, Erasures, ReceivedEntry, Subject, SubjectKind};

use crate::support::{entry, subject_id};

fn names() -> PersonNames {
    PersonNames::new(["Ottoline Brack"], ["030 555 0142"])
}

fn job() -> Subject {
    Subject::new(SubjectKind::Job, subject_id(7))
}

/// An entry about the job with this kind and body.
fn of(kind: &str, body: &str) -> Entry {
    let note = Body::Note(Note {
        of: None,
        text: String::new(),
        voice: None,
    });
    Entry {
        kind: kind.to_owned(),
        body: body.to_owned(),
        ..entry(1, job(), 1_000, 1, &note)
    }
}

#[test]
fn what_is_left_keeps_the_shape_of_its_kind() {
    let step = of(
        "step",
        r#"{"operation":"restitch_welt","side":"left","note":"as Brack asked","minutes":25}"#,
    );
    let found = names().mention(&step).unwrap();
    assert_eq!(found.text, "as Brack asked");
    assert!(!found.certain, "one word of the name");
    let left = found.left.unwrap();
    assert_eq!(left["note"], "as … asked");
    assert_eq!(left["minutes"], 25);
    assert!(matches!(Body::of_value("step", &left), Body::Step(_)));
}

#[test]
fn nothing_is_left_of_a_name_alone_and_of_what_a_newer_app_wrote() {
    for (kind, body) in [
        ("note", r#"{"text":"Brack"}"#),
        ("detail", r#"{"field":"look","value":"Ottoline Brack"}"#),
        ("hologram", r#"{"deep":[{"said":"Brack was here"}]}"#),
    ] {
        let found = names().mention(&of(kind, body)).unwrap();
        assert_eq!(found.left, None, "{kind}");
    }
    let number = of("detail", r#"{"field":"tag","value":"Brack 7"}"#);
    assert_eq!(names().mention(&number), None, "the number on a tag names nobody");
}

/// The entry keeps its place, its time and what refers to it; only the mention is gone.
#[test]
fn a_step_without_its_mention_is_still_the_step() {
    let step = of(
        "step",
        r#"{"operation":"restitch_welt","side":"left","note":"as Brack asked","minutes":25}"#,
    );
    let left = names().mention(&step).unwrap().left;
    let erasing = entry(
        2,
        job(),
        5_000,
        1,
        &Body::MentionErased(MentionErased { entry: step.id, left }),
    );
    let mut erasures = Erasures::default();
    assert!(erasures.note(&erasing), "it is new");
    let mut blank = step.clone();
    assert!(erasures.blank(&mut blank), "the step itself is blank");
    assert!(!erasures.covers(&erasing), "the erasing entry stays");
    let log = [blank, erasing].map(ReceivedEntry::unsent);
    for log in [log.clone(), [log[1].clone(), log[0].clone()]] {
        let state = JobState::of(&log);
        let [done] = state.steps.as_slice() else {
            panic!("one step, not {:?}", state.steps);
        };
        let expected = Step {
            cement: None,
            line: None,
            operation: "restitch_welt".into(),
            side: shared::log::body::Side::Left,
            note: "as … asked".to_owned(),
            minutes: Some(25),
            used: Vec::new(),
        };
        assert_eq!(
            (done.entry, done.at, &done.body),
            (step.id, step.made_at, &expected)
        );
        assert_eq!(state.newer, []);
    }
}

#[test]
fn only_an_entry_about_the_same_subject_erases_a_mention() {
    let note = of("note", r#"{"text":"Brack"}"#);
    let elsewhere = Subject::new(SubjectKind::Ticket, subject_id(8));
    let body = Body::MentionErased(MentionErased {
        entry: note.id,
        left: None,
    });
    let mut erasures = Erasures::default();
    erasures.note(&entry(2, elsewhere, 5_000, 1, &body));
    assert!(!erasures.covers(&note));
    erasures.note(&entry(3, job(), 5_000, 1, &body));
    assert!(erasures.covers(&note));
}

/// What was left of a text is searched again, and can be erased once more.
#[test]
fn a_second_person_in_the_same_text_can_be_erased_later() {
    let note = of("note", r#"{"text":"Brack and Ludmilla Thorn share these"}"#);
    let erasing = |n, of: &Entry, left| {
        entry(
            n,
            job(),
            1_000 * i64::from(n),
            1,
            &Body::MentionErased(MentionErased { entry: of.id, left }),
        )
    };
    let first = erasing(2, &note, names().mention(&note).unwrap().left);
    let other = PersonNames::new(["Ludmilla Thorn"], []);
    let found = other.mention(&first).unwrap();
    assert_eq!(
        (found.text.as_str(), found.certain),
        ("… and Ludmilla Thorn share these", true)
    );
    let second = erasing(3, &first, found.left);
    let mut erasures = Erasures::default();
    erasures.note(&second);
    let log = [note, first, second].map(|mut entry| {
        erasures.blank(&mut entry);
        ReceivedEntry::unsent(entry)
    });
    assert!(
        log[0].entry.is_blank() && log[1].entry.is_blank(),
        "the last entry alone tells of both"
    );
    let state = JobState::of(&log);
    let texts: Vec<&str> = state.notes.iter().map(|note| note.body.text.as_str()).collect();
    assert_eq!(texts, ["… and … share these"]);
}
