//! Calculations for the heel: its lifts, its height before wear, whether both heels are level, and the line of a
//! combination top piece.

use std::f64::consts::PI;

use shared::trade::formulas::corner_line::CornerLine;
use shared::trade::formulas::facet::WearPlane;
use shared::trade::formulas::heel::Heel;
use shared::trade::formulas::level_pair::{HeelPair, HeelPlace, LevelChange, Side};
use shared::trade::formulas::lifts::Stack;
use shared::trade::formulas::{Calculation, InvalidField, Point};

use super::lengths::rounded;
use super::{CalcAnswer, CalcInput, ChoiceField, Helper, NumberField, Sketch};

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
    let skived = lifts.lifts > 0 && lift_mm - lifts.last_mm > 0.05;
    let say = match (lifts.lifts, skived) {
        (0, _) => words::calc::heel::no_lift().to_owned(),
        (count, true) => words::calc::heel::cut_lifts_skive_last(count, &given.say(lifts.last_mm)),
        (count, false) => words::calc::heel::cut_lifts(count),
    };
    Ok(CalcAnswer::new(say))
}

pub(super) const AS_IT_WAS: Helper = Helper {
    what: "heel",
    choices: &[ChoiceField {
        name: "known_from",
        options: &["other", "edge", "breast"],
    }],
    numbers: &[
        NumberField::length("known_mm", 30.0, 0.5),
        NumberField::length("now_mm", 27.0, 0.5),
        LENGTH,
        NumberField::plain("wedge_deg", 3.0, 0.5),
    ],
    calculate: as_it_was,
};

/// The height of a worn heel at its back before the wear: the height at the unworn breast plus what the wedge adds
/// towards the back (wedge = atan((back − breast) / length), the definition of [`Heel`]).
fn as_it_was(given: &CalcInput<'_>) -> Result<CalcAnswer, InvalidField> {
    let (known, now, length) = (given.of("known_mm"), given.of("now_mm"), given.of("length_mm"));
    let was = match given.word("known_from") {
        "breast" => known + length * given.of("wedge_deg").to_radians().tan(),
        _ => known,
    };
    // Both heights must be valid heights of a heel.
    Heel {
        back_mm: was,
        breast_mm: known.min(was),
        length_mm: length,
    }
    .calculate()?;
    Heel {
        back_mm: now,
        breast_mm: 0.0,
        length_mm: length,
    }
    .calculate()?;
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
    choices: &[],
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
    let heel = |back: &str, breast: &str| Heel {
        back_mm: given.of(back),
        breast_mm: given.of(breast),
        length_mm,
    };
    let levelled = HeelPair {
        left: heel("left_back_mm", "left_breast_mm"),
        right: heel("right_back_mm", "right_breast_mm"),
    }
    .calculate()?;
    let alike = levelled.back_within && levelled.breast_within && levelled.wedge_within;
    let mut answer = if alike {
        CalcAnswer::new(words::calc::heel::stand_alike().to_owned())
    } else {
        let off = changes(given, &levelled.take_off, words::calc::heel::off_the);
        let on = changes(given, &levelled.add, words::calc::heel::on_the);
        let mut answer = CalcAnswer::new(words::calc::heel::take_off(&off));
        answer.more.push(words::calc::heel::or_put_on(&on));
        answer
    };
    let wedge = rounded(levelled.wedge_difference_deg, 1);
    answer.more.push(words::calc::heel::wedges_differ(&wedge));
    Ok(answer)
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

pub(super) const CORNER: Helper = Helper {
    what: "corner",
    choices: &[],
    numbers: &[
        NumberField::length("outer_back_mm", 6.0, 0.5),
        NumberField::length("inner_back_mm", 1.0, 0.5),
        NumberField::length("outer_breast_mm", 0.0, 0.5),
        NumberField::length("keep_mm", 1.0, 0.5),
        WIDTH,
        LENGTH,
    ],
    calculate: corner,
};

fn corner(given: &CalcInput<'_>) -> Result<CalcAnswer, InvalidField> {
    let (width, length) = (given.of("width_mm"), given.of("length_mm"));
    let outline = heel_outline(width, length);
    let half = width / 2.0;
    let facet_mm = vec![
        [half, 0.0, -given.of("outer_back_mm")],
        [-half, 0.0, -given.of("inner_back_mm")],
        [half, length, -given.of("outer_breast_mm")],
    ];
    let plane = WearPlane {
        points_mm: facet_mm.clone(),
    }
    .calculate()?;
    let parted = CornerLine {
        outline_mm: outline.clone(),
        facet_mm,
        keep_mm: given.of("keep_mm"),
    }
    .calculate()?;
    let square_cm = |mm2: f64| rounded(mm2 / 100.0, 1);
    let say = match parted.angle_deg {
        Some(angle) => words::calc::heel::cut_along_line(&rounded(angle, 0)),
        None if parted.rubber_mm2 > 0.0 => words::calc::heel::all_rubber().to_owned(),
        None => words::calc::heel::all_leather().to_owned(),
    };
    let mut answer = CalcAnswer::new(say);
    let (rubber, leather) = (square_cm(parted.rubber_mm2), square_cm(parted.leather_mm2));
    answer
        .more
        .push(words::calc::heel::rubber_and_leather(&rubber, &leather));
    let tilt = rounded(plane.tilt_deg, 1);
    answer.more.push(words::calc::heel::facet_tilts(&tilt));
    answer.sketch = Some(Sketch::Heel {
        outline,
        nails: Vec::new(),
        line: parted.ends_mm,
    });
    Ok(answer)
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
