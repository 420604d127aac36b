use proptest::prelude::*;
use serde_json::json;

use super::*;

/// The minutes by pair and step of one person's day, from `(pair, step, minute)` and, for waits, `(pair, from, to)`.
fn day(stamps: &[(&str, &str, f64)], waits: &[(&str, f64, f64)], limit: f64) -> Vec<(String, f64)> {
    let stamps: Vec<_> = stamps
        .iter()
        .map(|(pair, step, at)| json!({"person": "p", "pair": pair, "step": step, "at": at}))
        .collect();
    let waits: Vec<_> = waits
        .iter()
        .map(|(pair, from, to)| json!({"pair": pair, "from": from, "to": to}))
        .collect();
    let asked = json!({"stamps": stamps, "waits": waits, "gap_limit_min": limit});
    let asked: StampDay = serde_json::from_value(asked).unwrap();
    use crate::trade::formulas::Calculation;
    let got = asked.calculate().unwrap();
    let name = |one: &asked::StepMinutes| format!("{} {}", one.pair, one.step);
    got.steps.iter().map(|one| (name(one), one.minutes)).collect()
}

fn of(day: &[(String, f64)], name: &str) -> f64 {
    day.iter()
        .find(|(one, _)| one == name)
        .map_or(0.0, |(_, minutes)| *minutes)
}

/// All expected values in this file are calculated by hand.
#[test]
fn interleaved_work_goes_to_the_pair_that_was_in_hand() {
    let got = day(
        &[
            ("a", "x", 0.0),
            ("b", "y", 10.0),
            ("a", "x", 25.0),
            ("b", "z", 40.0),
        ],
        &[],
        90.0,
    );
    assert_eq!(
        (of(&got, "a x"), of(&got, "b y"), of(&got, "b z")),
        (15.0, 10.0, 15.0)
    );
}

#[test]
fn six_noted_at_once_share_the_time_before() {
    let mut stamps = vec![("z", "start", 0.0)];
    for (at, pair) in ["a", "b", "c", "d", "e", "f"].into_iter().enumerate() {
        stamps.push((pair, "x", 60.0 + at as f64 * 0.5));
    }
    let got = day(&stamps, &[], 90.0);
    for pair in ["a", "b", "c", "d", "e", "f"] {
        assert!(
            (of(&got, &format!("{pair} x")) - 62.5 / 6.0).abs() < 1e-9,
            "{pair}"
        );
    }
}

#[test]
fn a_pair_that_dries_is_not_worked_on() {
    let stamps = [("a", "cement", 0.0), ("a", "press", 30.0)];
    assert_eq!(of(&day(&stamps, &[("a", 0.0, 15.0)], 90.0), "a press"), 15.0);
    let still_wet = day(&stamps, &[("a", 0.0, 45.0)], 90.0);
    assert_eq!(of(&still_wet, "a press"), 30.0, "who pressed did not wait");
    let other = day(&stamps, &[("b", 0.0, 15.0)], 90.0);
    assert_eq!(of(&other, "a press"), 30.0);
    let both = [("a", "cement", 0.0), ("a", "press", 30.0), ("b", "polish", 31.0)];
    let got = day(&both, &[("a", 0.0, 15.0)], 90.0);
    assert_eq!(
        (of(&got, "a press"), of(&got, "b polish")),
        (8.0, 23.0),
        "the first 15 minutes were b's"
    );
}

#[test]
fn the_customers_time_is_nobodys() {
    let got = day(
        &[
            ("a", "x", 0.0),
            ("n", "counter", 20.0),
            ("n", "counter", 26.0),
            ("a", "y", 40.0),
        ],
        &[],
        90.0,
    );
    assert_eq!(
        of(&got, "a y"),
        18.0 + 14.0,
        "18 before the customer came in, 14 after they left"
    );
}

#[test]
fn a_gap_beyond_the_limit_counts_as_usual_or_as_nothing() {
    let stamps = [("a", "x", 0.0), ("a", "half_sole", 200.0)];
    assert_eq!(of(&day(&stamps, &[], 90.0), "a half_sole"), 0.0);
    assert_eq!(of(&day(&stamps, &[], 240.0), "a half_sole"), 200.0);
    let act = |operation: &'static str, minute: i64| Act {
        job: 1,
        operation: Some(operation),
        at: minute * 60_000,
        counter: false,
        noted: None,
    };
    let shares = infer(vec![act("x", 0), act("half_sole", 200)], &[], &Rules::default()).shares;
    let usual = (25.0f64 * 40.0).sqrt();
    assert!((shares[&(1, Some("half_sole"))].minutes - usual).abs() < 1e-12);
    let first = infer(vec![act("half_sole", 200)], &[], &Rules::default()).shares;
    assert!(
        (first[&(1, Some("half_sole"))].minutes - usual).abs() < 1e-12,
        "the day's first step"
    );
}

#[test]
fn what_belongs_to_no_operation_goes_to_the_next_of_the_pair() {
    let got = day(
        &[
            ("a", "sole_off", 0.0),
            ("a", "", 10.0),
            ("b", "y", 20.0),
            ("a", "shank", 25.0),
            ("b", "", 30.0),
        ],
        &[],
        90.0,
    );
    assert_eq!(
        (of(&got, "a shank"), of(&got, "b y"), of(&got, "b ")),
        (15.0, 10.0, 5.0)
    );
}

#[test]
fn noted_minutes_win_and_the_rest_goes_to_the_others() {
    let act = |job: u8, minute: i64, noted: Option<u32>| Act {
        job,
        operation: Some("x"),
        at: minute * 60_000,
        counter: false,
        noted,
    };
    let rules = Rules::default();
    let alone = infer(vec![act(0, 0, None), act(1, 60, Some(20))], &[], &rules).shares;
    assert_eq!(
        (alone[&(1, Some("x"))].minutes, alone[&(1, Some("x"))].noted),
        (20.0, true)
    );
    let two = infer(
        vec![act(0, 0, None), act(1, 60, Some(20)), act(2, 60, None)],
        &[],
        &rules,
    )
    .shares;
    assert_eq!(
        (two[&(1, Some("x"))].minutes, two[&(2, Some("x"))].minutes),
        (20.0, 40.0)
    );
    let more = infer(
        vec![act(0, 0, None), act(1, 10, Some(20)), act(2, 10, None)],
        &[],
        &rules,
    )
    .shares;
    assert_eq!(
        (more[&(1, Some("x"))].minutes, more[&(2, Some("x"))].minutes),
        (20.0, 0.0)
    );
}

#[test]
fn what_is_no_day_is_refused() {
    use crate::trade::formulas::Calculation;
    let asked = |at: serde_json::Value, to: serde_json::Value| {
        let stamp = |at| json!({"person": "p", "pair": "a", "step": "x", "at": at});
        let wait = json!({"pair": "a", "from": 10, "to": to});
        let all = json!({"stamps": [stamp(json!(5)), stamp(at)], "waits": [wait], "gap_limit_min": 90});
        serde_json::from_value::<StampDay>(all).unwrap().calculate()
    };
    for sound in [json!(25), json!("00:25"), json!("00:25:00")] {
        assert_eq!(
            asked(sound, json!(20)).unwrap().total_min,
            10.0,
            "20 minutes, 10 of them drying"
        );
    }
    for at in [
        json!(-1),
        json!(1441),
        json!("1989-12-31T10:00:00Z"),
        json!("2100-01-01T00:00:00Z"),
        json!("2025-03-01T10:00:00Z"),
    ] {
        assert_eq!(asked(at.clone(), json!(20)).unwrap_err().field, "stamps", "{at}");
    }
    assert_eq!(asked(json!(6), json!(9)).unwrap_err().field, "waits");
    for no_time in ["24:00", "9:15", "09:15 ", "noon", ""] {
        assert!(
            serde_json::from_value::<asked::Moment>(json!(no_time)).is_err(),
            "{no_time}"
        );
    }
    let none: StampDay = serde_json::from_value(json!({"stamps": []})).unwrap();
    assert_eq!(none.calculate().unwrap().total_min, 0.0);
    let negative = StampDay {
        gap_limit_min: Some(-1.0),
        ..none
    };
    assert_eq!(negative.calculate().unwrap_err().field, "gap_limit_min");
}

proptest! {
    /// For any stamps: no minutes are negative, and the total is never more than the time from the first stamp to the
    /// last.
    #[test]
    fn no_minute_is_given_out_twice(
        stamps in prop::collection::vec((0u8..4, 0u8..4, 0u32..700), 1..40),
        waits in prop::collection::vec((0u8..4, 0u32..700, 0u32..200), 0..6),
    ) {
        let names = ["a", "b", "c", "d"];
        let steps = ["x", "y", "", "counter"];
        let stamps: Vec<_> = stamps.into_iter()
            .map(|(pair, step, at)| (names[usize::from(pair)], steps[usize::from(step)], f64::from(at) / 2.0)).collect();
        let waits: Vec<_> = waits.into_iter()
            .map(|(pair, from, long)| (names[usize::from(pair)], f64::from(from) / 2.0, f64::from(from + long) / 2.0)).collect();
        let got = day(&stamps, &waits, 90.0);
        let at = stamps.iter().map(|(_, _, at)| *at);
        let span = at.clone().fold(0.0, f64::max) - at.fold(f64::INFINITY, f64::min);
        prop_assert!(got.iter().all(|(_, minutes)| *minutes >= 0.0));
        prop_assert!(got.iter().map(|(_, minutes)| minutes).sum::<f64>() <= span + 1e-9);
    }

    /// The order in which stamps arrive does not matter.
    #[test]
    fn stamps_can_come_in_any_order(stamps in prop::collection::vec((0u8..3, 0u8..3, 0u32..500), 1..20)) {
        let names = ["a", "b", "c"];
        let mut all: Vec<_> = stamps.into_iter()
            .map(|(pair, step, at)| (names[usize::from(pair)], names[usize::from(step)], f64::from(at))).collect();
        let forth = day(&all, &[], 90.0);
        all.reverse();
        prop_assert_eq!(forth, day(&all, &[], 90.0));
    }
}
