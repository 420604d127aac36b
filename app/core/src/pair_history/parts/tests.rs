use proptest::prelude::*;
use shared::log::body::{Published, Redo, Section, Used};
use shared::trade::operations::operations;

use super::*;
use crate::commands::scene;
use shared::log::fold::{PairState, TicketState};

const YEAR: i64 = 365 * 86_400_000;

/// A pair with a job for each of these steps: operation, side, when.
fn pair(steps: &[(&str, Side, i64)]) -> PairHistory {
    let mut history = scene::history(PairState::default(), JobState::default(), TicketState::default());
    history.jobs.clear();
    for (n, (operation, side, at)) in (0_u128..).zip(steps) {
        let mut step = scene::step(10 + n, operation, *at);
        step.body.side = side.clone();
        let job = JobState {
            steps: vec![step],
            ..scene::job(&[])
        };
        history.jobs.insert(scene::subject(1_000 + n), job);
    }
    history
}

#[test]
fn both_shoes_are_one_line_until_one_of_them_is_done_again() {
    let mut steps = vec![("top_piece_replacement", Side::Both, YEAR)];
    let all = parts(&pair(&steps));
    assert_eq!(all.len(), 1);
    assert_eq!((&all[0].side, all[0].until), (&Side::Both, None));

    steps.push(("top_piece_replacement", Side::Right, 2 * YEAR));
    let said: Vec<_> = parts(&pair(&steps))
        .into_iter()
        .map(|one| (one.side, one.at.utc.0, one.until.map(|at| at.utc.0)))
        .collect();
    assert_eq!(
        said,
        [
            (Side::Right, 2 * YEAR, None),
            (Side::Right, YEAR, Some(2 * YEAR)),
            (Side::Left, YEAR, None),
        ]
    );
}

#[test]
fn a_part_comes_with_who_what_and_the_terms_of_its_own_job() {
    let mut history = pair(&[
        ("half_sole", Side::Both, YEAR),
        ("heel_grip", Side::Both, 2 * YEAR),
    ]);
    let job = history.jobs.values_mut().next().expect("the first");
    job.steps[0].body.used = vec![Used {
        material: "rubber, 4 mm".to_owned(),
        thousandths: 1_000,
        material_id: None,
    }];
    job.steps[0].body.note = "splice at the waist".to_owned();
    let published = |n, terms: &str| {
        scene::said(
            n,
            0,
            Published {
                pair: scene::subject(scene::PAIR),
                section: Box::new(Section {
                    terms: terms.to_owned(),
                    ..Section::default()
                }),
                seen: Vec::new(),
            },
        )
    };
    job.published = vec![published(50, "six months"), published(51, "a year")];
    let all = parts(&history);
    let sole = all
        .iter()
        .find(|one| one.part == Component::Outsole)
        .expect("fitted");
    assert_eq!(sole.with, ["rubber, 4 mm"]);
    assert_eq!(sole.note, "splice at the waist");
    assert_eq!(sole.terms, "a year", "as published last");
    let grip = all
        .iter()
        .find(|one| one.part == Component::HeelGrip)
        .expect("fitted");
    assert_eq!(grip.terms, "", "those of another job are not its own");
}

#[test]
fn a_step_that_was_made_again_has_fitted_nothing() {
    let mut history = pair(&[("half_sole", Side::Both, YEAR)]);
    let job = history.jobs.values_mut().next().expect("a job");
    let step = job.steps[0].entry;
    job.redone = vec![scene::said(
        60,
        YEAR,
        Redo {
            step,
            scrap: String::new(),
        },
    )];
    assert_eq!(parts(&history), []);
}

#[test]
fn work_that_leaves_the_part_is_told_apart() {
    let history = pair(&[
        ("insole_repair", Side::Left, YEAR),
        ("insole_repair", Side::Both, 2 * YEAR),
    ]);
    assert_eq!(parts(&history), []);
    let said: Vec<_> = mended(&history, &Component::Insole)
        .into_iter()
        .map(|one| (one.work, one.at.utc.0))
        .collect();
    let work = shared::trade::operations::name("insole_repair");
    assert_eq!(
        said,
        [(work.to_owned(), 2 * YEAR), (format!("{work}, left"), YEAR)]
    );
    assert_eq!(mended(&history, &Component::Counter), []);
}

proptest! {
    /// Whatever was done, each shoe has at most one of a kind on, and nothing comes off before it is on.
    #[test]
    fn on_each_shoe_one_of_a_kind_is_on(
        work in prop::collection::vec((0..operations().count(), 0..3_usize, 0_i64..30), 0..20)
    ) {
        let sides = [Side::Both, Side::Left, Side::Right];
        let steps: Vec<_> = work.iter().map(|(at, side, day)| (code_at(*at), sides[*side].clone(), day * 86_400_000)).collect();
        let all = parts(&pair(&steps));
        for shoe in [Side::Left, Side::Right] {
            let on = |one: &&FittedPart| one.until.is_none() && (one.side == shoe || one.side == Side::Both);
            let on: Vec<_> = all.iter().filter(on).map(|one| (&one.operation, &one.part)).collect();
            for (at, one) in on.iter().enumerate() {
                prop_assert!(!on[..at].contains(one), "{one:?} twice on one shoe");
            }
        }
        prop_assert!(all.iter().all(|one| one.until.is_none_or(|until| until.utc >= one.at.utc)));
    }
}

/// The code of the operation at a place of the trade's list.
fn code_at(place: usize) -> &'static str {
    operations().nth(place).expect("a place in the list").code
}
