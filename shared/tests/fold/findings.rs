//! A finding that is entered anew, because its part or condition is named later: what was about it stays about it.

use crate::support::{entry, entry_id, over, pair, retracted};
use shared::log::body::{
    Agreed, Blob, Body, Damage, Decision, Note, Pays, Photo, Question, Seen, Shows, Side,
};
use shared::log::fold::{JobState, PairState, TicketState};
use shared::log::{EntryId, PersonId, ReceivedEntry, UnixMs};
use shared::price::minor::Minor;
use shared::price::records::JobFacts;
use uuid::Uuid;

fn finding(part: &str, condition: &str) -> Body {
    Body::Damage(Damage {
        part: part.to_owned(),
        condition: condition.to_owned(),
        side: Side::Left,
        seen: Seen::Inside,
        decision: Some(Decision::Replace),
        pays: Some(Pays::ShopNeeded),
        note: String::new(),
    })
}

fn about(finding: u16) -> [Body; 4] {
    let blob = Blob {
        sha256: "0".repeat(64),
        media_type: "image/jpeg".to_owned(),
        bytes: 1,
        width: 1,
        height: 1,
    };
    let finding = Some(entry_id(finding));
    [
        Body::Agreed(Agreed {
            damage: finding,
            ..Agreed::at("shank_replacement", Minor(1_800))
        }),
        Body::Question(Question {
            text: "What now?".to_owned(),
            choices: Vec::new(),
            photo: None,
            damage: finding,
        }),
        Body::Photo(Photo {
            of: finding,
            ..Photo::new(blob.clone(), blob, Shows::Damage)
        }),
        Body::Note(Note {
            text: "Never seen one like it".to_owned(),
            voice: None,
            of: finding,
        }),
    ]
}

/// The entries made one after the other, ten milliseconds apart; each replaces those that are named beside it.
fn state(bodies: &[(Body, &[u16])]) -> JobState {
    let made = (0..).zip(bodies).map(|(n, (body, replaced))| {
        let mut one = over(entry(n, pair(1), 10 * i64::from(n), 0, body), replaced);
        one.person = Some(PersonId(Uuid::from_u128(u128::from(n))));
        ReceivedEntry::unsent(one)
    });
    JobState::of(&made.collect::<Vec<_>>())
}

/// What the line, the question, the photograph and the note say they are about.
fn referred(state: &JobState) -> [Option<EntryId>; 4] {
    [
        state.agreed[0].last().and_then(|line| line.body.damage),
        state.questions[0].body.damage,
        state.photos[0].body.of,
        state.notes[0].body.of,
    ]
}

/// A metal strip nobody had a name for, about which everything was said; it is entered twice more.
fn named_later() -> Vec<(Body, &'static [u16])> {
    let mut all = vec![(finding("metal strip", "snapped"), &[][..])];
    all.extend(about(0).map(|body| (body, &[][..])));
    all.push((finding("shank", "snapped"), &[0][..]));
    all.push((finding("shank", "broken"), &[5][..]));
    all
}

#[test]
fn what_is_about_a_finding_stays_about_it_when_it_is_named() {
    let named = state(&named_later());
    assert_eq!(referred(&named), [Some(entry_id(6)); 4]);
    assert_eq!(named.damage.len(), 1);
    let found = &named.damage[0];
    assert_eq!((found.entry, found.body.part.as_str()), (entry_id(6), "shank"));
    // It was found when it was first entered, by whoever entered it then.
    assert_eq!(
        (found.at.utc, found.person),
        (UnixMs(0), Some(PersonId(Uuid::from_u128(0))))
    );
    let facts = JobFacts::of(
        crate::support::subject_id(1),
        &named,
        Some(&TicketState::default()),
        &PairState::default(),
    );
    assert_eq!(
        facts.lines[0].damage,
        Some(0),
        "the books know what the line repairs"
    );
}

#[test]
fn a_name_that_is_taken_back_gives_the_finding_its_former_one() {
    let mut bodies = named_later();
    bodies.push((retracted(6), &[]));
    let back = state(&bodies);
    assert_eq!(referred(&back), [Some(entry_id(5)); 4]);
    bodies.push((retracted(5), &[]));
    let first = state(&bodies);
    assert_eq!(referred(&first), [Some(entry_id(0)); 4]);
    assert_eq!(first.damage[0].body.part, "metal strip");
}

#[test]
fn names_given_on_two_devices_are_two_findings_and_no_reference_is_lost() {
    let mut bodies = named_later();
    bodies.push((finding("rand", "snapped"), &[0]));
    let two = state(&bodies);
    assert_eq!(two.damage.len(), 2);
    let standing: Vec<EntryId> = two.damage.iter().map(|item| item.entry).collect();
    for reference in referred(&two) {
        assert!(
            reference.is_some_and(|id| standing.contains(&id)),
            "{reference:?}"
        );
    }
}

#[test]
fn findings_that_replace_each_other_in_a_circle_lose_nothing() {
    let circle = [
        (finding("shank", "broken"), &[1][..]),
        (finding("rand", "loose"), &[0][..]),
    ];
    assert!(!state(&circle).damage.is_empty());
}
