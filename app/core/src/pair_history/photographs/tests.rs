use proptest::prelude::*;
use shared::log::body::Blob;
use shared::log::fold::{JobState, PairState, TicketState};

use super::*;
use crate::commands::scene;

const YEAR: i64 = 365 * 86_400_000;

fn photo(name: &str, shows: Shows, operation: Option<&str>) -> Photo {
    let blob = Blob {
        sha256: name.to_owned(),
        media_type: "image/jpeg".to_owned(),
        bytes: 1,
        width: 1,
        height: 1,
    };
    Photo {
        operation: operation.map(Into::into),
        ..Photo::new(blob.clone(), blob, shows)
    }
}

/// A pair with these jobs, a year apart, each with these photographs.
fn pair(jobs: &[&[Photo]]) -> PairHistory {
    let mut history = scene::history(PairState::default(), JobState::default(), TicketState::default());
    history.jobs.clear();
    for (n, photos) in (1_u32..).zip(jobs) {
        let taken = |(at, photo): (usize, &Photo)| {
            let nth = u128::from(n) * 100 + at as u128;
            scene::said(nth, i64::from(n) * YEAR + at as i64, photo.clone())
        };
        let job = JobState {
            photos: photos.iter().enumerate().map(taken).collect(),
            ..scene::job(&[])
        };
        history.jobs.insert(scene::subject(u128::from(n)), job);
    }
    history
}

fn brought(name: &str) -> Photo {
    photo(name, Shows::DropOff, None)
}

fn finished(name: &str) -> Photo {
    photo(name, Shows::Finished, None)
}

fn step(name: &str, operation: &str) -> Photo {
    photo(name, Shows::Step, Some(operation))
}

#[test]
fn compared_are_the_first_and_the_last_time_it_was_brought() {
    let two = |jobs: &[&[Photo]]| {
        let all = shots(&pair(jobs));
        compared(&all).map(|(one, other)| [one, other].map(|at| all[at].photo.full.sha256.clone()))
    };
    let names = |one: &str, other: &str| Some([one.to_owned(), other.to_owned()]);
    let both: &[&[Photo]] = &[&[brought("a"), finished("b")], &[brought("c"), finished("d")]];
    assert_eq!(two(both), names("a", "c"));
    assert_eq!(
        two(&[&[brought("a"), step("b", "half_sole"), finished("c")]]),
        names("a", "c")
    );
    assert_eq!(two(&[&[step("a", "half_sole"), brought("b")]]), names("a", "b"));
    assert_eq!(two(&[&[brought("a")]]), None);
    assert_eq!(two(&[]), None);
}

#[test]
fn beside_a_photograph_the_same_view_farthest_from_it_is_laid() {
    let all = shots(&pair(&[
        &[brought("a"), finished("b")],
        &[brought("c")],
        &[brought("d"), step("e", "half_sole")],
    ]));
    let beside = |at| like(&all, at).map(|at| all[at].photo.full.sha256.as_str());
    assert_eq!(beside(0), Some("d"));
    assert_eq!(beside(3), Some("a"));
    assert_eq!(beside(1), None, "finished once");
    assert_eq!(beside(9), None);
}

/// Five years later, the camera shows the pair as it was brought then, view by view.
#[test]
fn the_next_photograph_is_lined_up_with_the_same_view_of_years_ago() {
    let then = [brought("left then"), brought("sole then"), finished("done then")];
    let ghost = |now: &[Photo], shows: Shows, operation: &str| {
        let history = pair(&[&then, now]);
        let found = before(&history, scene::subject(2), &shows, Some(operation));
        found.map(|(job, photo)| (job == scene::subject(1), photo.full.sha256.clone()))
    };
    let said = |of_then: bool, name: &str| Some((of_then, name.to_owned()));
    assert_eq!(ghost(&[], Shows::DropOff, ""), said(true, "left then"));
    let one = [brought("left now")];
    assert_eq!(ghost(&one, Shows::DropOff, ""), said(true, "sole then"));
    let three = [brought("1"), brought("2"), brought("3")];
    assert_eq!(
        ghost(&three, Shows::DropOff, ""),
        said(true, "sole then"),
        "the last there is"
    );
    assert_eq!(ghost(&one, Shows::Finished, ""), said(true, "done then"));
    // This operation was not photographed then: the pair as it was brought now.
    assert_eq!(ghost(&one, Shows::Step, "half_sole"), said(false, "left now"));
    let worked = [brought("left now"), step("open", "half_sole")];
    assert_eq!(ghost(&worked, Shows::Step, "half_sole"), said(false, "open"));
}

#[test]
fn on_its_first_stay_a_finished_pair_is_lined_up_with_itself_as_brought() {
    let history = pair(&[&[brought("left"), brought("sole"), finished("left after")]]);
    let found = before(&history, scene::subject(1), &Shows::Finished, None);
    assert_eq!(found.map(|(_, photo)| photo.full.sha256.as_str()), Some("sole"));
    assert_eq!(
        before(&pair(&[&[]]), scene::subject(1), &Shows::DropOff, None),
        None
    );
}

#[test]
fn this_time_lies_beside_the_same_view_of_last_time() {
    let beside = |jobs: &[&[Photo]]| {
        last_and_this_time(&pair(jobs)).map(|both| both.map(|shot| shot.photo.full.sha256))
    };
    let names = |then: &str, now: &str| Some([then.to_owned(), now.to_owned()]);
    let years: &[&[Photo]] = &[
        &[brought("a")],
        &[finished("b"), brought("c")],
        &[step("d", "half_sole"), brought("e")],
    ];
    assert_eq!(beside(years), names("c", "e"), "as brought, of the last two jobs");
    let soles: &[&[Photo]] = &[
        &[step("a", "stretch"), step("b", "half_sole")],
        &[step("c", "half_sole")],
    ];
    assert_eq!(beside(soles), names("b", "c"), "the same operation");
    let damage = [photo("a", Shows::Damage, None), photo("b", Shows::Damage, None)];
    let unlike: &[&[Photo]] = &[
        &[finished("c"), damage[0].clone()],
        &[step("d", "stretch"), damage[1].clone()],
    ];
    assert_eq!(beside(unlike), names("c", "d"), "the first of each");
    assert_eq!(beside(&[&[brought("a")], &[]]), None);
}

#[test]
fn a_job_is_known_by_the_pair_before_and_after() {
    let known = |photos: &[Photo]| {
        let history = pair(&[photos]);
        let job = &history.jobs[&scene::subject(1)];
        let (before, after) = before_and_after(job);
        [before, after].map(|photo| photo.map(|photo| photo.full.sha256.clone()).unwrap_or_default())
    };
    assert_eq!(
        known(&[
            step("a", "stretch"),
            brought("b"),
            finished("c"),
            step("d", "stretch")
        ]),
        ["b", "c"]
    );
    assert_eq!(
        known(&[brought("a"), step("b", "stretch"), step("c", "stretch")]),
        ["a", "c"]
    );
    assert_eq!(
        known(&[step("a", "stretch")]),
        ["a", ""],
        "one photograph is shown once"
    );
    assert_eq!(known(&[]), ["", ""]);
}

#[test]
fn the_face_of_a_pair_is_found_among_its_photographs() {
    let face = |jobs: &[&[Photo]]| face_shot(&pair(jobs)).map(|shot| (shot.job, shot.photo.full.sha256));
    let found = face(&[&[brought("a")], &[step("b", "stretch"), brought("c")]]);
    assert_eq!(found, Some((scene::subject(2), "c".to_owned())));
    assert_eq!(face(&[&[]]), None);
}

proptest! {
    #[test]
    fn whatever_was_photographed_two_different_ones_are_compared(kinds in prop::collection::vec(0..3_usize, 0..12)) {
        let kind = |(at, kind): (usize, &usize)| match kind {
            0 => brought(&at.to_string()),
            1 => finished(&at.to_string()),
            _ => step(&at.to_string(), "half_sole"),
        };
        let photos: Vec<Photo> = kinds.iter().enumerate().map(kind).collect();
        let all = shots(&pair(&[&photos]));
        match compared(&all) {
            Some((first, second)) => prop_assert!(first < second && second < all.len()),
            None => prop_assert!(all.len() < 2),
        }
        for at in 0..all.len() {
            prop_assert!(like(&all, at).is_none_or(|other| other != at && same_view(&all[at].photo, &all[other].photo)));
        }
    }
}
