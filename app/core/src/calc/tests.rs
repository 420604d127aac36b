mod assumed;
mod heels;
mod pairs;

use serde_json::{Map, Value};

use super::*;

/// 2026-03-02T18:00:00+01:00.
fn evening() -> WallClock {
    WallClock::at(1_772_470_800_000, 60).unwrap()
}

fn given(what: &str, numbers: &[(&str, f64)], words: &[(&str, &str)]) -> CalcInput<'static> {
    let helper = helper(what).unwrap();
    let mut kept = Map::new();
    kept.extend(
        numbers
            .iter()
            .map(|(name, number)| ((*name).to_owned(), Value::from(*number))),
    );
    kept.extend(
        words
            .iter()
            .map(|(name, word)| ((*name).to_owned(), Value::from(*word))),
    );
    for name in kept.keys() {
        let asked = helper.numbers.iter().any(|asked| asked.name == name)
            || helper.choices.iter().any(|choice| choice.name == name);
        assert!(asked, "{what} asks no {name}");
    }
    begun(helper, &kept, &CalcPair::default())
}

/// What a helper is given for a pair, with these inputs kept on the same job.
fn begun(helper: &'static Helper, kept: &Map<String, Value>, pair: &CalcPair) -> CalcInput<'static> {
    let start = helper.begin(kept, true, pair);
    CalcInput {
        helper,
        numbers: start.numbers,
        touched: start.touched,
        from_before: start.from_before,
        chosen: start.chosen,
        lengths: Lengths::Mm,
        nail_lengths: USUAL_NAILS.to_vec(),
        clock: evening(),
        pair: pair.clone(),
    }
}

fn say(what: &str, numbers: &[(&str, f64)], words: &[(&str, &str)]) -> String {
    let given = given(what, numbers, words);
    given.helper.answer(&given).unwrap().say
}

#[test]
fn every_helper_answers_with_what_is_usual() {
    for helper in &HELPERS {
        let given = given(helper.what, &[], &[]);
        let answer = helper.answer(&given).unwrap();
        assert!(answer.say.ends_with('.'), "{}: {}", helper.what, answer.say);
        // And with every other choice.
        for (at, choice) in helper.choices.iter().enumerate() {
            for option in 0..choice.options.len() {
                let mut other = given.clone();
                other.chosen[at] = option;
                if (choice.name, choice.options[option]) == ("system", "foot") {
                    other.numbers[0] = 265.0;
                }
                if choice.name == "system" && option > 0 && option < 4 {
                    other.numbers[0] = 8.0;
                }
                helper.answer(&other).unwrap();
            }
        }
    }
}

#[test]
fn every_field_and_option_has_a_label() {
    for helper in &HELPERS {
        let what = helper.what;
        assert!(!helper.title().is_empty(), "{what}");
        for asked in helper.numbers {
            assert!(!asked.label(what).is_empty(), "{what} {}", asked.name);
        }
        for choice in helper.choices {
            assert!(!choice.label(what).is_empty(), "{what} {}", choice.name);
            for option in choice.options {
                let label = choice.option_label(what, option);
                assert!(!label.is_empty(), "{what} {} {option}", choice.name);
            }
        }
    }
    for what in [DYE, COMPARE, PHOTO] {
        assert!(
            !called(what).is_empty() && called(what) == words::calc::title(what),
            "{what}"
        );
    }
    for beside in &BESIDE {
        assert!(!beside.words().is_empty(), "{}", beside.word);
    }
}

/// 6 + 18 − 2 = 22: a nail of 22 is not shorter, so the next on the shelf (the rule of the nails of a heel, common
/// practice).
#[test]
fn the_nail_is_pulled_from_the_shelf_or_it_is_said_that_none_fits() {
    let through = [("direction", "top_piece")];
    let numbers = [("top_piece_mm", 6.0), ("block_mm", 18.0), ("clearance_mm", 2.0)];
    assert_eq!(say("nails", &numbers, &through), "Use 19 mm nails.");
    let thin = [("top_piece_mm", 6.0), ("block_mm", 4.0), ("clearance_mm", 2.0)];
    assert_eq!(
        say("nails", &thin, &through),
        "None on the shelf is short enough: it must be shorter than 8 mm."
    );
    let given = given("nails", &numbers, &through);
    let Some(Sketch::Heel { nails, outline, .. }) = given.helper.answer(&given).unwrap().sketch else {
        panic!("no sketch")
    };
    assert_eq!(nails.len(), 7);
    assert!(outline.len() > 10);
}

/// ISO 4915 301: ratio 2 + 2 T S = 8.299213, with 15 % waste 5344.69 mm.
#[test]
fn thread_is_measured_off() {
    assert_eq!(
        say("thread", &[], &[]),
        "Measure off 5.3 m of thread, all threads together."
    );
    assert_eq!(
        say("thread", &[("waste_percent", 0.0)], &[]),
        "Measure off 4.6 m of thread, all threads together."
    );
}

#[test]
fn the_sole_is_pulled_by_size_and_thickness() {
    assert_eq!(say("sole", &[("size", 43.0)], &[]), "Use size 43 (EU) at 5 mm.");
    let uk = say("sole", &[("size", 8.0)], &[("system", "uk")]);
    assert!(uk.starts_with("Use size 41.5 (EU)"), "{uk}");
}

/// 280 · 100 mm twice at 75 %: 5.6 / 0.75 dm² (closed form), 0.804 square feet (NIST SP 811: 9.290304 dm² each).
#[test]
fn leather_is_bought_by_area() {
    assert_eq!(say("leather", &[], &[]), "Buy 7.5 dm², or find it on the shelf.");
    let inches = CalcInput {
        lengths: Lengths::Inch,
        ..given("leather", &[], &[])
    };
    assert_eq!(
        inches.helper.answer(&inches).unwrap().say,
        "Buy 0.8 square feet, or find it on the shelf."
    );
}

#[test]
fn a_guard_asks_for_as_much_under_the_heel() {
    assert_eq!(
        say("pitch", &[], &[]),
        "Put 2 mm under the heel, or the toe comes up."
    );
    assert_eq!(say("pitch", &[("seat_change_mm", 2.0)], &[]), "The pitch stays.");
}

/// Contact cement: 10 minutes to the touch, open for 30 (vendors' pages); a stiffener of paste overnight (common practice).
#[test]
fn the_clock_says_when_to_feel_and_when_it_is_ready() {
    assert_eq!(say("ready", &[], &[]), "Feel it from 18:10; join by 18:40.");
    let cement = given("ready", &[], &[]);
    assert_eq!(cement.helper.answer(&cement).unwrap().wait, Some(10));
    assert_eq!(
        say("ready", &[], &[("kind", "counter_paste")]),
        "Ready: tomorrow, 06:00."
    );
    assert_eq!(
        say("ready", &[("sheet_min", 5.0), ("sheet_max", 20.0)], &[]),
        "Feel it from 18:05; join by 18:20."
    );
}

/// A sole may wear to 2.5 mm, a top piece to 2 (common practice, no source).
#[test]
fn wear_says_how_much_is_left_before_what_is_above_wears_too() {
    assert_eq!(
        say("wear", &[("thickness_mm", 5.0)], &[]),
        "Outsole: 2.5 mm may still wear away."
    );
    assert_eq!(
        say("wear", &[("thickness_mm", 2.0)], &[("part", "top_piece")]),
        "Top piece: worn out. Renew it before what is above it wears too."
    );
}

#[test]
fn a_field_that_cannot_be_so_is_named_by_its_label() {
    let error = |what: &str, numbers: &[(&str, f64)]| {
        let given = given(what, numbers, &[]);
        given.helper.answer(&given).unwrap_err()
    };
    assert!(error("nails", &[("block_mm", -1.0)]).starts_with("Heel block: "));
    assert!(error("nails", &[("count", 0.0)]).starts_with("Nails: "));
    assert!(error("level", &[("left_back_mm", 0.0)]).starts_with("Left, at the back: "));
    assert!(error("thread", &[("waste_percent", 300.0)]).starts_with("Wasted, %: "));
    assert!(error("wear", &[("thickness_mm", -1.0)]).starts_with("It is thick: "));
    assert!(error("ready", &[("sheet_min", -1.0)]).starts_with("Minutes the product's sheet asks"));
    let mut nothing = given("lifts", &[], &[]);
    nothing.numbers[0] = f64::NAN;
    assert_eq!(
        nothing.helper.answer(&nothing).unwrap_err(),
        "Height of the whole heel: a number."
    );
}

#[test]
fn what_is_kept_is_where_the_next_one_begins() {
    let given = given("nails", &[("block_mm", 18.5)], &[("direction", "below")]);
    let again = given.helper.begin(&given.kept(), true, &CalcPair::default());
    assert_eq!((again.numbers, again.chosen), (given.numbers, given.chosen));
    assert_eq!((again.touched, again.from_before), (given.touched, false));
}

#[test]
fn steps_have_the_helpers_that_serve_them() {
    let whats = |code: &str| {
        helpers_for(code)
            .into_iter()
            .map(|(what, _)| what)
            .collect::<Vec<_>>()
    };
    assert_eq!(
        whats("top_piece_replacement"),
        [
            "nails", "lifts", "heel", "level", "corner", "wear", "ready", "photo"
        ]
    );
    assert_eq!(
        whats("resole_welted"),
        ["thread", "sole", "pitch", "wear", "leather", "ready", "photo"]
    );
    assert!(whats("half_sole").starts_with(&["sole", "pitch"]));
    assert_eq!(whats("their own thing"), Vec::<&str>::new());
    // Every word belongs to a helper.
    for known in shared::trade::operations::operations() {
        assert!(
            helpers_for(known.code)
                .iter()
                .all(|(what, _)| [DYE, COMPARE, PHOTO].contains(what) || helper(what).is_some())
        );
    }
}
