//! Calculations for the heel: its lifts, its height before wear, and whether both heels are level.

use std::f64::consts::PI;

use shared::trade::formulas::heel::Heel;
use shared::trade::formulas::level_pair::{HeelPair, HeelPlace, HeightsMeant, LevelChange, Levelled, Side};
use shared::trade::formulas::lifts::{LEAST_LAST_MM, Stack};
use shared::trade::formulas::{Calculation, InvalidField, Point};

use super::lengths::rounded;
use super::{CalcAnswer, CalcInput, ChoiceField, Helper, NumberField};

pub(super) const WIDTH: NumberField = NumberField::length("width_mm", 60.0, 1.0);
pub(super) const LENGTH: NumberField = NumberField::length("length_mm", 60.0, 1.0);

pub(super) const LIFTS: Helper = Helper {
    what: "lifts",
    choices: &[],
    numbers: &[
        NumberField::length("height_mm", 30.0, 1.0),
        NumberField::length("top_piece_mm", 6.0, 0.5),
        NumberField::length("lift_mm", 5.0, 0.5),
    ],
    calculate: lifts,
};

fn lifts(given: &CalcInput<'_>) -> Result<CalcAnswer, InvalidField> {
    let lift_mm = given.of("lift_mm");
    let lifts = Stack {
        height_mm: given.of("height_mm"),
        top_piece_mm: given.of("top_piece_mm"),
        lift_mm,
    }
    .calculate()?;
    let skived = lift_mm - lifts.last_mm > 0.05;
    // What the last lift would have been, had it not been shared out.
    let shared_out = (lifts.each_mm - lift_mm).max(0.0) * f64::from(lifts.lifts);
    let say = match lifts.lifts {
        0 => words::calc::heel::no_lift().to_owned(),
        1 if lifts.last_mm < LEAST_LAST_MM.min(lift_mm / 2.0) => {
            words::calc::heel::less_than_a_lift(&given.say(lifts.last_mm))
        }
        count if shared_out > 0.0 => {
            let each = given.lengths.say_finely(lifts.each_mm);
            words::calc::heel::cut_thicker_lifts(count, &each)
        }
        count if skived => words::calc::heel::cut_lifts_skive_last(count, &given.say(lifts.last_mm)),
        count => words::calc::heel::cut_lifts(count),
    };
    let mut answer = CalcAnswer::new(say);
    if shared_out > 0.0 {
        let last = given.say(shared_out);
        answer.more.push(words::calc::heel::last_would_be(&last));
    }
    Ok(answer)
}

pub(super) const AS_IT_WAS: Helper = Helper {
    what: "heel",
    choices: &[ChoiceField {
        name: "known_from",
        options: &["other", "edge", "breast"],
    }],
    numbers: &[
        NumberField::length("known_mm", 30.0, 0.5),
        NumberField::length("middle_mm", 31.0, 0.5).with("known_from", "breast"),
        NumberField::length("now_mm", 27.0, 0.5),
    ],
    calculate: as_it_was,
};

/// The height of a worn heel at its back before the wear. From the breast it is that of a straight wedge through two
/// heights that are not worn: what it gains from the breast to half way back, it gains again from there to the back.
fn as_it_was(given: &CalcInput<'_>) -> Result<CalcAnswer, InvalidField> {
    let (known, now) = (given.of("known_mm"), given.of("now_mm"));
    let was = match given.word("known_from") {
        "breast" => 2.0 * given.of("middle_mm") - known,
        _ => known,
    };
    // Both must be heights of a heel.
    for (field, height) in [("known_mm", was), ("now_mm", now)] {
        let heel = Heel {
            back_mm: height,
            breast_mm: 0.0,
            length_mm: LENGTH.usual,
        };
        heel.calculate()
            .map_err(|refused| InvalidField::new(field, refused.allowed))?;
    }
    let worn = was - now;
    let say = if worn > 0.05 {
        words::calc::heel::height_it_had(&given.say(was), &given.say(worn))
    } else {
        words::calc::heel::height_unchanged(&given.say(was))
    };
    Ok(CalcAnswer::new(say))
}

pub(super) const LEVEL: Helper = Helper {
    what: "level",
    choices: &[ChoiceField {
        name: "heights",
        options: &["alike", "prescribed"],
    }],
    numbers: &[
        NumberField::length("left_back_mm", 30.0, 0.5),
        NumberField::length("left_breast_mm", 26.0, 0.5),
        NumberField::length("right_back_mm", 30.0, 0.5),
        NumberField::length("right_breast_mm", 26.0, 0.5),
        LENGTH,
    ],
    calculate: level,
};

fn level(given: &CalcInput<'_>) -> Result<CalcAnswer, InvalidField> {
    let length_mm = given.of("length_mm");
    // Orthopaedic heights are never levelled, whatever is chosen.
    let heights = match given.pair.is_prescribed() {
        true => HeightsMeant::Prescribed,
        false => given.choice("heights")?,
    };
    let heel = |back: &str, breast: &str| Heel {
        back_mm: given.of(back),
        breast_mm: given.of(breast),
        length_mm,
    };
    let levelled = HeelPair {
        left: heel("left_back_mm", "left_breast_mm"),
        right: heel("right_back_mm", "right_breast_mm"),
        heights: Some(heights),
    }
    .calculate()?;
    let mut answer = match heights {
        HeightsMeant::Prescribed => CalcAnswer::new(words::calc::heel::as_prescribed().to_owned()),
        HeightsMeant::Alike => to_level(given, &levelled),
    };
    let wedge = rounded(levelled.wedge_difference_deg, 1);
    answer.more.push(words::calc::heel::wedges_differ(&wedge));
    Ok(answer)
}

/// What levels a pair whose heights should be alike, or what to ask first.
fn to_level(given: &CalcInput<'_>, levelled: &Levelled) -> CalcAnswer {
    if levelled.back_within && levelled.breast_within && levelled.wedge_within {
        return CalcAnswer::new(words::calc::heel::stand_alike().to_owned());
    }
    let off = changes(given, &levelled.take_off, words::calc::heel::off_the);
    let on = changes(given, &levelled.add, words::calc::heel::on_the);
    let mut answer = if levelled.ask_first {
        let most = levelled
            .back_difference_mm
            .abs()
            .max(levelled.breast_difference_mm.abs());
        let mut answer = CalcAnswer::new(words::calc::heel::ask_first(&given.say(most)));
        answer.more.push(words::calc::heel::if_not_meant(&off));
        answer
    } else {
        CalcAnswer::new(words::calc::heel::take_off(&off))
    };
    answer.more.push(words::calc::heel::or_put_on(&on));
    answer
}

/// All changes after each other, each in the words that `say` has for its height and its place.
fn changes(given: &CalcInput<'_>, all: &[LevelChange], say: impl Fn(&str, &str) -> String) -> String {
    let one = |change: &LevelChange| {
        let place = match (change.side, change.place) {
            (Side::Left, HeelPlace::Back) => words::calc::heel::left_back(),
            (Side::Left, HeelPlace::Breast) => words::calc::heel::left_breast(),
            (Side::Right, HeelPlace::Back) => words::calc::heel::right_back(),
            (Side::Right, HeelPlace::Breast) => words::calc::heel::right_breast(),
        };
        say(&given.say(change.mm), place)
    };
    let all: Vec<_> = all.iter().map(one).collect();
    all.join("; ")
}

/// The number of points on the round part of the outline.
const ROUND: u32 = 24;

/// The outline of a usual heel, convex, in mm: straight at the breast and the sides, round at the back.
pub(super) fn heel_outline(width: f64, length: f64) -> Vec<Point> {
    let half = width / 2.0;
    let deep = half.min(length);
    let round = (0..=ROUND).map(|at| {
        let turn = PI * f64::from(at) / f64::from(ROUND);
        [-half * turn.cos(), deep - deep * turn.sin()]
    });
    let mut outline: Vec<Point> = round.collect();
    if length > deep {
        outline.extend([[half, length], [-half, length]]);
    }
    outline
}
