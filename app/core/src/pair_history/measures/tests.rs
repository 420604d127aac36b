use proptest::prelude::*;
use serde_json::json;
use shared::log::UnixMs;
use shared::log::fold::{JobState, PairState, TicketState};

use super::*;
use crate::commands::scene;

fn measured(what: &str, given: Value) -> Measured {
    let Value::Object(given) = given else {
        panic!("an object");
    };
    Measured {
        what: what.to_owned(),
        operation: None,
        say: String::new(),
        given,
    }
}

/// A pair with a job for each of these, measured in this order.
fn pair(all: &[(i64, Measured)]) -> PairHistory {
    let mut history = scene::history(PairState::default(), JobState::default(), TicketState::default());
    history.jobs.clear();
    for (n, (at, body)) in (0_u128..).zip(all) {
        let job = JobState {
            measured: vec![scene::said(n, *at, body.clone())],
            ..scene::job(&[])
        };
        history.jobs.insert(scene::subject(n), job);
    }
    history
}

fn wear(part: &str, side: &str, mm: f64) -> Measured {
    measured(WEAR, json!({"part": part, "side": side, "thickness_mm": mm}))
}

#[test]
fn each_part_and_side_is_a_series_by_time() {
    let history = pair(&[
        (20, wear("outsole", "left", 3.5)),
        (10, wear("outsole", "left", 4.5)),
        (10, wear("outsole", "right", 4.0)),
        (30, wear("top_piece", "both", 6.0)),
    ]);
    let said: Vec<_> = series(&history)
        .into_iter()
        .map(|one| {
            (
                one.called,
                one.readings.iter().map(|reading| reading.mm).collect::<Vec<_>>(),
            )
        })
        .collect();
    assert_eq!(
        said,
        [
            ("Outsole, left, thickness".to_owned(), vec![4.5, 3.5]),
            ("Outsole, right, thickness".to_owned(), vec![4.0]),
            ("Top piece, thickness".to_owned(), vec![6.0]),
        ]
    );
}

#[test]
fn heights_of_the_heel_are_measured_and_what_is_chosen_is_not() {
    let level = json!({"left_back_mm": 30, "length_mm": 60, "right_back_mm": "thick"});
    let history = pair(&[
        (1, measured("level", level)),
        (2, measured("nails", json!({"block_mm": 18}))),
    ]);
    let all = series(&history);
    assert_eq!(all.len(), 1);
    assert_eq!(all[0].called, "Heel height, left, at the back");
}

/// Before guards were parts, the thickness of a guard was written down as that of the outsole.
#[test]
fn under_a_guard_the_outsole_is_the_guard() {
    let mut history = pair(&[
        (10, wear("outsole", "left", 5.0)),
        (30, wear("outsole", "left", 1.8)),
        (40, wear("outsole", "both", 6.8)),
        (50, wear("sole_guard", "left", 1.6)),
    ]);
    let first = history.jobs.values_mut().next().expect("the first");
    first.steps = vec![scene::step(9, "sole_guard", 20)];
    let said: Vec<_> = series(&history)
        .into_iter()
        .map(|one| (one.called, one.readings.len()))
        .collect();
    assert_eq!(
        said,
        [
            ("Outsole, left, thickness".to_owned(), 1),
            ("Sole guard, left, thickness".to_owned(), 2),
            ("Outsole, thickness".to_owned(), 1),
        ]
    );
    let of: Vec<_> = thicknesses(&history)
        .into_iter()
        .map(|one| (one.part, one.reading.mm))
        .collect();
    assert_eq!(
        of,
        [
            (Component::Outsole, 5.0),
            (Component::SoleGuard, 1.8),
            (Component::SoleGuard, 1.6)
        ],
        "a guard measured with its sole is neither"
    );
}

#[test]
fn what_was_assumed_was_not_measured() {
    let given = json!({"left_back_mm": 30, "right_back_mm": 30, ASSUMED: ["right_back_mm", "length_mm"]});
    let all = series(&pair(&[(1, measured("level", given))]));
    assert_eq!(all.len(), 1);
    assert_eq!(all[0].called, "Heel height, left, at the back");
}

#[test]
fn what_cannot_be_a_length_is_passed_over() {
    let odd = [
        measured(WEAR, json!({"part": "outsole", "thickness_mm": -1})),
        measured(WEAR, json!({"part": "outsole", "thickness_mm": 1e300})),
        measured(WEAR, json!({"part": "outsole", "thickness_mm": "4"})),
        measured(WEAR, json!({"thickness_mm": 4})),
        measured("bells", json!({"left_back_mm": 4})),
    ];
    for one in odd {
        assert_eq!(series(&pair(&[(1, one.clone())])), [], "{one:?}");
    }
}

/// A tenth of the way down after half of the time.
#[test]
fn a_plot_is_to_scale() {
    let at = |ms| scene::said(1, ms, ()).at;
    let reading = |ms, mm| Reading { at: at(ms), mm };
    let plot = Plot::of(&[reading(0, 10.0), reading(50, 9.0), reading(100, 0.0)]).expect("three");
    let [[left, top], [middle, tenth], [right, bottom]] = plot.points[..] else {
        panic!("three points");
    };
    assert!(((middle - left) / (right - left) - 0.5).abs() < 1e-9);
    assert!(((tenth - top) / (bottom - top) - 0.1).abs() < 1e-9);
    assert!(top < bottom, "the greatest is above");
    assert!(plot.rises());
    let level = Plot::of(&[reading(0, 26.0), reading(9, 26.0)]).expect("two");
    assert!(!level.rises());
    assert_eq!(Plot::of(&[reading(0, 10.0)]), None);
    assert_eq!(Plot::of(&[]), None);
}

proptest! {
    #[test]
    fn every_point_is_on_the_drawing(all in prop::collection::vec((any::<i32>(), 0.0..1_000.0_f64), 2..20)) {
        let readings: Vec<_> = all.iter().map(|(ms, mm)| {
            let mut reading = Reading { at: scene::said(1, 0, ()).at, mm: *mm };
            reading.at.utc = UnixMs(i64::from(*ms));
            reading
        }).collect();
        let plot = Plot::of(&readings).expect("two or more");
        for [x, y] in &plot.points {
            prop_assert!((0.0..=Plot::WIDTH).contains(x) && (0.0..=Plot::HEIGHT).contains(y));
        }
        prop_assert!(!plot.path().contains("NaN"));
    }
}
