//! Answers that rest on numbers which nobody measured.

use super::*;

#[test]
fn what_rests_on_nothing_measured_is_an_example() {
    for helper in &HELPERS {
        let untouched = given(helper.what, &[], &[]);
        let answer = helper.answer(&untouched).unwrap();
        let measures = helper.numbers.iter().any(|field| !field.holds);
        let expected = match measures {
            true => RestsOn::Example,
            // How long a cement takes is known without measuring anything.
            false => RestsOn::Measured,
        };
        assert_eq!(answer.rests_on, expected, "{}", helper.what);
        assert_eq!(answer.rests_on.caveat().is_some(), measures, "{}", helper.what);
        let Some(field) = helper.numbers.iter().find(|field| !field.holds) else {
            continue;
        };
        let touched = given(helper.what, &[(field.name, field.usual)], &[]);
        let answer = helper.answer(&touched).unwrap();
        assert_eq!(answer.rests_on, RestsOn::Measured, "{}", helper.what);
    }
    assert_eq!(RestsOn::Example.caveat(), Some("An example, not yet measured."));
}

#[test]
fn a_usual_value_that_is_changed_measures_nothing() {
    let waste = given("thread", &[("waste_percent", 10.0)], &[]);
    assert_eq!(waste.helper.answer(&waste).unwrap().rests_on, RestsOn::Example);
}

#[test]
fn what_was_not_measured_is_listed_and_kept_as_assumed() {
    let sole = given("sole", &[("thickness_mm", 4.0)], &[]);
    let answer = sole.helper.answer(&sole).unwrap();
    assert_eq!(answer.more.last().unwrap(), "Assumed, not measured: Size.");
    assert_eq!(sole.kept()["assumed"], serde_json::json!(["size"]));
    let whole = given("sole", &[("thickness_mm", 4.0), ("size", 43.0)], &[]);
    assert!(!whole.kept().contains_key("assumed"));
    let more = whole.helper.answer(&whole).unwrap().more;
    assert!(!more.iter().any(|line| line.starts_with("Assumed")));
}

#[test]
fn what_was_kept_as_assumed_begins_as_assumed_and_old_entries_as_measured() {
    let level = given("level", &[("left_back_mm", 32.0)], &[]);
    let mut kept = level.kept();
    let start = level.helper.begin(&kept, true, &CalcPair::default());
    assert_eq!(start.touched, [true, false, false, false, false]);
    kept.remove("assumed");
    let start = level.helper.begin(&kept, true, &CalcPair::default());
    assert_eq!(start.touched, [true; 5]);
}

#[test]
fn what_an_earlier_visit_kept_is_shown_and_not_taken_as_measured() {
    let kept = given("wear", &[("thickness_mm", 3.0)], &[]).kept();
    let helper = helper("wear").unwrap();
    let start = helper.begin(&kept, false, &CalcPair::default());
    let input = CalcInput {
        touched: start.touched,
        from_before: start.from_before,
        ..begun(helper, &kept, &CalcPair::default())
    };
    let answer = helper.answer(&input).unwrap();
    assert_eq!(answer.rests_on, RestsOn::EarlierVisit);
    assert_eq!(answer.say, "Outsole: 0.5 mm may still wear away.");
}

/// A number that a choice leaves out is neither asked for nor kept.
#[test]
fn only_what_is_asked_for_is_kept() {
    let depth = given("corner", &[("outer_back_mm", 5.0)], &[]).kept();
    assert!(depth.contains_key("outer_back_mm") && !depth.contains_key("was_mm"));
    let heights = given("corner", &[("was_mm", 30.0)], &[("measured", "heights")]).kept();
    assert!(heights.contains_key("now_mm") && !heights.contains_key("outer_back_mm"));
    let mut unread = given("heel", &[], &[]);
    let at = unread
        .helper
        .numbers
        .iter()
        .position(|field| field.name == "middle_mm");
    unread.numbers[at.unwrap()] = f64::NAN;
    assert!(
        unread.helper.answer(&unread).is_ok(),
        "only the breast asks for it"
    );
}

/// At the bench a depth is measured at one corner; shares of waste, and angles, are not measured at all.
#[test]
fn nobody_is_asked_at_once_for_what_is_usual_or_derived() {
    for helper in &HELPERS {
        for field in helper.numbers {
            let is_usual = ["waste_percent", "yield_percent"].contains(&field.name);
            assert!(!field.name.ends_with("_deg"), "{}: {}", helper.what, field.name);
            assert!(
                !is_usual || field.shown == FieldShown::Behind,
                "{}: {}",
                helper.what,
                field.name
            );
        }
    }
    let corner = helper("corner").unwrap();
    let depths = ["outer_back_mm", "inner_back_mm", "outer_breast_mm"];
    let asked: Vec<&str> = corner
        .numbers
        .iter()
        .filter(|field| depths.contains(&field.name) && field.shown != FieldShown::Behind)
        .map(|field| field.name)
        .collect();
    assert_eq!(asked, ["outer_back_mm"]);
}
