//! What a helper takes from what is known of the pair.

use serde_json::json;
use shared::log::body::Measured;
use shared::log::fold::{JobState, PairHistory, TicketState};
use shared::trade::Goods;

use super::*;
use crate::commands::scene;

const DAY_MS: i64 = 86_400_000;
/// 2026-02-01 at noon, 29 days before the evening of the clock.
const FEBRUARY: i64 = 1_769_947_200_000;

fn of_goods(goods: Goods) -> CalcPair {
    CalcPair {
        goods: Some(goods),
        ..CalcPair::default()
    }
}

/// A pair with one job: these steps, and these thicknesses of a part, at so many days after the first of February.
fn history(steps: &[(&str, i64)], measured: &[(&str, f64, i64)]) -> PairHistory {
    let at = |days: &i64| FEBRUARY + days * DAY_MS;
    let step = |(n, (operation, days)): (u128, &(&str, i64))| scene::step(n, operation, at(days));
    let wear = |(n, (part, mm, days)): (u128, &(&str, f64, i64))| {
        let given = json!({"part": part, "side": "both", "thickness_mm": mm});
        let body = Measured {
            what: "wear".to_owned(),
            operation: None,
            say: String::new(),
            given: given.as_object().unwrap().clone(),
        };
        scene::said(n, at(days), body)
    };
    let job = JobState {
        steps: (10..).zip(steps).map(step).collect(),
        measured: (50..).zip(measured).map(wear).collect(),
        ..scene::job(&[])
    };
    scene::history(scene::pair(&[]), job, TicketState::default())
}

/// The answer on a thickness of a part of the left shoe.
fn wear(pair: &CalcPair, part: &str, mm: f64) -> CalcAnswer {
    let kept = json!({"part": part, "side": "left", "thickness_mm": mm});
    let given = begun(helper("wear").unwrap(), kept.as_object().unwrap(), pair);
    given.helper.answer(&given).unwrap()
}

/// A child's boot is not size 42, and its heel is not 60 mm wide. Common practice, no source.
#[test]
fn a_childs_shoe_begins_smaller() {
    let start = |what: &str, goods| {
        let helper = helper(what).unwrap();
        let start = helper.begin(&Map::new(), true, &of_goods(goods));
        let names = helper.numbers.iter().map(|field| field.name);
        let numbers: Vec<_> = names.zip(start.numbers).collect();
        (numbers, start.chosen)
    };
    let (numbers, chosen) = start("sole", Goods::Child);
    assert_eq!((numbers[0], chosen), (("size", 30.0), vec![0, 1]));
    let (numbers, chosen) = start("sole", Goods::LowShoe);
    assert_eq!((numbers[0], chosen), (("size", 42.0), vec![0, 0]));
    for what in ["nails", "corner"] {
        assert!(
            start(what, Goods::Child).0.contains(&("width_mm", 45.0)),
            "{what}"
        );
        assert!(start(what, Goods::Boot).0.contains(&("width_mm", 60.0)), "{what}");
    }
}

/// Two makers' charts: after the children's 13½ comes 1, and a child's UK 12 is US 12½ or 13.
#[test]
fn a_childs_sizes_are_told_as_they_are_marked() {
    let more = |size: f64| {
        let words = [("system", "uk"), ("group", "child")];
        let given = given("sole", &[("size", size), ("thickness_mm", 4.0)], &words);
        given.helper.answer(&given).unwrap().more
    };
    let twelve = more(12.0);
    assert!(
        twelve.contains(&"About EU 30.5, UK 12, US 12.5 or 13 by the maker: the nearest half.".to_owned()),
        "{twelve:?}"
    );
    let begins_again = |lines: &[String]| {
        lines
            .iter()
            .any(|line| line.contains("children's sizes begin again"))
    };
    assert!(!begins_again(&twelve));
    let after = more(14.0);
    assert!(
        after.iter().any(|line| line.contains("UK 1, US 1.5 or 2")),
        "{after:?}"
    );
    assert!(begins_again(&after) && begins_again(&more(1.0)));
}

#[test]
fn an_orthopaedic_pair_is_never_levelled() {
    let raised = CalcPair::of(&history(&[("raise_to_prescription", 0)], &[]));
    for pair in [of_goods(Goods::Orthopaedic), raised] {
        let helper = helper("level").unwrap();
        // Even where an earlier entry said otherwise.
        let kept = json!({"heights": "alike", "left_back_mm": 50});
        let given = begun(helper, kept.as_object().unwrap(), &pair);
        assert!(helper.answer(&given).unwrap().say.starts_with("As prescribed"));
        let start = helper.begin(&Map::new(), true, &pair);
        assert_eq!(helper.choices[0].options[start.chosen[0]], "prescribed");
    }
}

/// Common practice, no source: a guard counts as worn at 1 mm, a half sole at 1.5, a leather sole at 2.5.
#[test]
fn a_part_counts_as_worn_by_the_operation_that_put_it_on() {
    let none = CalcPair::default();
    assert_eq!(
        wear(&none, "sole_guard", 1.8).say,
        "Sole guard: 0.8 mm may still wear away."
    );
    assert!(wear(&none, "outsole", 2.0).say.starts_with("Outsole: worn out."));
    let half_sole = CalcPair::of(&history(&[("half_sole", 0)], &[]));
    assert_eq!(
        wear(&half_sole, "outsole", 2.0).say,
        "Outsole: 0.5 mm may still wear away."
    );
    let guarded = CalcPair::of(&history(&[("resole_welted", 0), ("sole_guard", 1)], &[]));
    let answer = wear(&guarded, "outsole", 1.8);
    assert_eq!(answer.say, "Sole guard: 0.8 mm may still wear away.");
    assert_eq!(
        answer.more[0],
        "A guard is on: what lies on the ground is the guard."
    );
    let helper = helper("wear").unwrap();
    let start = helper.begin(&Map::new(), true, &guarded);
    assert_eq!(helper.choices[0].options[start.chosen[0]], "sole_guard");
}

#[test]
fn measures_that_lie_close_together_say_when_to_measure_again() {
    let again = |steps: &[(&str, i64)], measured: &[(&str, f64, i64)]| {
        let pair = CalcPair::of(&history(steps, measured));
        wear(&pair, "outsole", 5.0).more.pop().unwrap()
    };
    let kept = "Kept at every visit, it says on the pair's page when to look again.";
    assert_eq!(again(&[], &[]), kept, "the first");
    assert_eq!(
        again(&[], &[("outsole", 5.1, 28)]),
        "The measures lie only 1 day apart: measure again on 29 March 2026 or later."
    );
    assert_eq!(again(&[], &[("outsole", 5.1, 28), ("outsole", 5.5, 0)]), kept);
    assert_eq!(again(&[], &[("top_piece", 6.0, 28)]), kept, "another part");
    assert_eq!(
        again(&[("half_sole", 10)], &[("outsole", 2.0, 0)]),
        kept,
        "the part before it"
    );
}
