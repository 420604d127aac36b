//! Mentions of a person in entries, and what remains of an entry without them.

use proptest::prelude::*;
use serde_json::Value;
use shared::log::body::{Body, MentionErased, Note, Step};
use shared::log::fold::JobState;
use shared::log::mentions::PersonNames;
use shared::log::{Entry, Erasures, ReceivedEntry, Subject, SubjectKind, UnixMs, about};

use crate::support::{entry, entry_id, subject_id};

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

/// Erases what an entry about the job says of a person, as device `device` does that knows nothing of other erasures.
fn erasing(n: u16, device: u8, of: &Entry, person: &PersonNames) -> Entry {
    let left = person.mention(of).expect("it names the person").left;
    let body = Body::MentionErased(MentionErased { entry: of.id, left });
    entry(n, job(), 1_000 * i64::from(n), device, &body)
}

/// These entries as every device has them once all have arrived.
fn together(entries: &[&Entry]) -> Vec<ReceivedEntry> {
    let mut erasures = Erasures::default();
    for entry in entries {
        erasures.note(entry);
    }
    let blanked = entries.iter().map(|entry| {
        let mut entry = (*entry).clone();
        erasures.blank(&mut entry);
        ReceivedEntry::unsent(entry)
    });
    blanked.collect()
}

fn said(log: &[ReceivedEntry]) -> Vec<String> {
    let state = JobState::of(log);
    assert_eq!(state.newer, []);
    state.notes.into_iter().map(|note| note.body.text).collect()
}

fn people() -> [PersonNames; 3] {
    ["Ottoline Brack", "Ludmilla Thorn", "Casimir Vole"].map(|name| PersonNames::new([name], []))
}

/// What each of the two has left still names the other person.
#[test]
fn two_people_erased_on_two_devices_are_both_gone_in_any_order() {
    let note = of("note", r#"{"text":"Brack and Ludmilla Thorn share these"}"#);
    let [brack, thorn, _] = people();
    let (first, second) = (erasing(2, 1, &note, &brack), erasing(3, 2, &note, &thorn));
    let (mut log, shown) = (together(&[&note, &first, &second]), "… and … share these");
    assert_eq!(said(&log), [shown]);
    log.reverse();
    assert_eq!(said(&log), [shown]);
    // Neither does it matter which one the server received first.
    for (early, late) in [(0, 1), (1, 0)] {
        log[early].received = Some(UnixMs(10));
        log[late].received = Some(UnixMs(20));
        assert_eq!(said(&log), [shown], "{early} before {late}");
    }
}

/// Nothing tells how they belong together: one of the devices has read another text under this id, or lies.
#[test]
fn what_two_erasures_leave_is_not_shown_if_it_cannot_be_of_one_text() {
    let note = of("note", r#"{"text":"Brack and Thorn share these"}"#);
    let other = of("note", r#"{"text":"Brack calls on Thorn"}"#);
    let [brack, thorn, _] = people();
    let log = together(&[
        &note,
        &erasing(2, 1, &note, &brack),
        &erasing(3, 2, &other, &thorn),
    ]);
    assert_eq!(said(&log), [""; 0]);
}

/// Two people are erased on two devices in what the erasure of a third one has left.
#[test]
fn what_is_left_of_an_erasure_is_common_to_all_that_erase_in_it() {
    let note = of("note", r#"{"text":"For Brack, Thorn and Vole, dark"}"#);
    let [brack, thorn, vole] = people();
    let first = erasing(2, 1, &note, &brack);
    let (second, third) = (erasing(3, 1, &first, &thorn), erasing(4, 2, &first, &vole));
    let log = together(&[&note, &first, &second, &third]);
    assert!(log[1].entry.is_blank());
    assert_eq!(said(&log), ["For …, … and …, dark"]);
}

/// The words of a text in which people are mentioned.
fn remark() -> impl Strategy<Value = String> {
    let words = [
        "Brack",
        "Thorn",
        "Vole",
        "Ottoline Brack",
        "dark",
        "edges",
        "and",
        "for",
        "these",
        ",",
    ];
    proptest::collection::vec(proptest::sample::select(words.to_vec()), 1..12)
        .prop_map(|words| words.join(" "))
}

proptest! {
    /// Whoever of the three is erased on a device of their own, and however the entries arrive: the same is shown, and no
    /// name.
    #[test]
    fn no_name_is_shown_whichever_erasures_meet(text in remark(), order in Just(vec![0_usize, 1, 2, 3]).prop_shuffle()) {
        let note = of("note", &serde_json::json!({ "text": text }).to_string());
        let mut entries = vec![note.clone()];
        let mut erased = Vec::new();
        for (n, (person, word)) in (2..).zip(people().iter().zip(["Brack", "Thorn", "Vole"])) {
            if person.mention(&note).is_some() {
                entries.push(erasing(n, u8::try_from(n).unwrap(), &note, person));
                erased.push(word);
            }
        }
        let log = together(&entries.iter().collect::<Vec<_>>());
        let shown = said(&log);
        for word in erased {
            prop_assert!(!shown.concat().contains(word), "{word} in {shown:?} of {text}");
        }
        let shuffled: Vec<_> = order.iter().filter_map(|at| log.get(*at).cloned()).collect();
        prop_assert_eq!(said(&shuffled), shown);
    }
}

/// What an entry links to names nobody: only what the customer said is erased.
#[test]
fn a_complaint_stays_about_the_earlier_job_when_its_mention_is_erased() {
    let earlier = subject_id(9);
    let body = serde_json::json!({
        "job": earlier, "step": entry_id(40), "operation": "restitch_welt", "cause": "seam",
        "note": "Brack says that Ms Welt wore them in the rain",
    });
    let complaint = of("complaint", &body.to_string());
    assert_eq!(about(&complaint), [job().id, earlier]);
    let brack = &people()[0];
    let first = erasing(2, 1, &complaint, brack);
    assert_eq!(about(&first), [job().id, earlier]);
    let log = together(&[&complaint, &first]);
    assert_eq!(about(&log[0].entry), [job().id], "a blank entry links to nothing");
    let shown = JobState::of(&log).complaint.unwrap().current.body;
    assert_eq!((shown.job, shown.operation.as_str()), (earlier, "restitch_welt"));
    assert_eq!(shown.note, "… says that Ms Welt wore them in the rain");

    // The second person has a name that is also part of the operation's code.
    let welt = PersonNames::new(["Amalia Welt"], []);
    let second = erasing(3, 1, &first, &welt);
    assert_eq!(about(&second), [job().id, earlier]);
    let log = together(&[&complaint, &first, &second]);
    let shown = JobState::of(&log).complaint.unwrap().current.body;
    assert_eq!((shown.job, shown.operation.as_str()), (earlier, "restitch_welt"));
    assert_eq!(shown.note, "… says that Ms … wore them in the rain");
}

#[test]
fn a_code_of_the_trade_names_nobody() {
    let asked = of(
        "question",
        r#"{"text":"Which?","choices":[{"say":"As Welt did","operation":"restitch_welt","price_minor":100}]}"#,
    );
    let left = PersonNames::new(["Amalia Welt"], [])
        .mention(&asked)
        .unwrap()
        .left
        .unwrap();
    let choice: &Value = &left["choices"][0];
    assert_eq!(choice["say"], "As … did");
    assert_eq!(choice["operation"], "restitch_welt");
}
