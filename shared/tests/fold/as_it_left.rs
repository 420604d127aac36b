//! What a job says of the pair as it left: old parts that were put back, and the construction.

use crate::support::{detail, entry, entry_id, over, pair, retracted};
use shared::log::body::{Body, KeptFor, PutBack, Side, TakenOut, field};
use shared::log::fold::{JobState, bench};
use shared::log::{EntryId, ReceivedEntry};
use shared::trade::Construction;

/// The state of a job with these entries, made one after the other; entry n is the n-th one, from 0.
fn state(bodies: &[Body]) -> JobState {
    let made = (0..)
        .zip(bodies)
        .map(|(n, body)| ReceivedEntry::unsent(entry(n, pair(1), 10 + i64::from(n), 0, body)));
    JobState::of(&made.collect::<Vec<_>>())
}

fn taken_out(part: &str, kept_for: Option<KeptFor>) -> Body {
    Body::TakenOut(TakenOut {
        part: part.to_owned(),
        side: Side::Left,
        kept_for,
    })
}

fn put_back(out: u16) -> Body {
    Body::PutBack(PutBack { out: entry_id(out) })
}

/// The parts that are back in their place, with the entries that say so.
fn back(job: &JobState) -> Vec<(&str, EntryId)> {
    let back = bench::parts_put_back(job);
    back.map(|(out, back)| (out.body.part.as_str(), back.entry))
        .collect()
}

#[test]
fn a_part_that_was_put_back_leaves_a_trace() {
    let mut said = vec![
        // As version 0.1.0 wrote it.
        taken_out("shank", None),
        taken_out("buckle", Some(KeptFor::Reuse)),
        taken_out("top_piece", Some(KeptFor::Customer)),
        put_back(0),
        put_back(0),
        put_back(1),
    ];
    let job = state(&said);
    assert_eq!(back(&job), [("shank", entry_id(3)), ("buckle", entry_id(5))]);
    assert_eq!(bench::parts_out(&job).count(), 0);
    assert_eq!(bench::parts_for_customer(&job).count(), 1);
    // It was not put back after all, and the other one was never taken off.
    said.extend([retracted(5), retracted(0)]);
    let job = state(&said);
    assert!(back(&job).is_empty());
    let out: Vec<_> = bench::parts_out(&job).map(|out| out.body.part.as_str()).collect();
    assert_eq!(out, ["buckle"]);
}

#[test]
fn an_entry_without_what_a_part_is_kept_for_is_read() {
    let old = r#"{"part": "shank", "side": "left"}"#;
    let mut written = entry(0, pair(1), 10, 0, &taken_out("shank", None));
    written.body = old.to_owned();
    let back_in = entry(1, pair(1), 11, 0, &put_back(0));
    let job = JobState::of(&[written, back_in].map(ReceivedEntry::unsent));
    assert_eq!(back(&job), [("shank", entry_id(1))]);
}

#[test]
fn the_construction_is_known_as_it_left_else_as_opened_else_as_guessed() {
    let guessed = detail(field::CONSTRUCTION_GUESSED, "blake");
    let opened = detail(field::CONSTRUCTION_OPENED, "cemented");
    let left = detail(field::CONSTRUCTION_LEFT, "blake");
    let told = |bodies: &[Body]| {
        let job = state(bodies);
        (
            job.construction_before(),
            job.construction_known(),
            job.construction_changed(),
        )
    };
    let (blake, cemented) = (Some(Construction::Blake), Some(Construction::Cemented));
    assert_eq!(told(&[]), (None, None, None));
    let mut said = vec![guessed];
    assert_eq!(told(&said), (blake.clone(), blake.clone(), None));
    said.push(opened);
    assert_eq!(
        told(&said),
        (cemented.clone(), cemented.clone(), None),
        "the guess was wrong"
    );
    said.push(left.clone());
    assert_eq!(told(&said), (cemented, blake.clone(), blake.clone()));
    // How it came is not known, so nobody can say that it changed.
    assert_eq!(told(&[left]), (None, blake, None));
}

#[test]
fn a_construction_that_is_taken_away_again_is_not_known() {
    let left = entry(0, pair(1), 10, 0, &detail(field::CONSTRUCTION_LEFT, "blake"));
    let nothing = over(
        entry(1, pair(1), 11, 0, &detail(field::CONSTRUCTION_LEFT, "")),
        &[0],
    );
    let job = JobState::of(&[left, nothing].map(ReceivedEntry::unsent));
    assert_eq!(job.construction_known(), None);
}
