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

pub(super) const WIDTH: NumberField = NumberField::length("width_mm", "Heel, side to side", 60.0, 1.0);
pub(super) const LENGTH: NumberField = NumberField::length("length_mm", "Heel, back to breast", 60.0, 1.0);

pub(super) const LIFTS: Helper = Helper {
    what: "lifts",
    title: "Lifts",
    choices: &[],
    numbers: &[
        NumberField::length("height_mm", "Height of the whole heel", 30.0, 1.0),
        NumberField::length("top_piece_mm", "Top piece", 6.0, 0.5),
        NumberField::length("lift_mm", "One lift", 5.0, 0.5),
    ],
    mind: "",
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
    let cut = match lifts.lifts {
        0 => "No lift: the top piece alone.".to_owned(),
        1 => "Cut 1 lift".to_owned(),
        many => format!("Cut {many} lifts"),
    };
    let skived = lifts.lifts > 0 && lift_mm - lifts.last_mm > 0.05;
    let say = match (lifts.lifts, skived) {
        (0, _) => cut,
        (_, true) => [&cut, ", skive the last to ", &given.say(lifts.last_mm), "."].concat(),
        (_, false) => [&cut, "."].concat(),
    };
    Ok(CalcAnswer::new(say))
}

pub(super) const AS_IT_WAS: Helper = Helper {
    what: "heel",
    title: "Height it had",
    choices: &[ChoiceField {
        name: "known_from",
        label: "What is not worn",
        options: &[
            ("other", "The other shoe"),
            ("edge", "The inner edge at the back"),
            ("breast", "The breast"),
        ],
    }],
    numbers: &[
        NumberField::length("known_mm", "Height there", 30.0, 0.5),
        NumberField::length("now_mm", "Height at the worn back", 27.0, 0.5),
        LENGTH,
        NumberField::plain(
            "wedge_deg",
            "Wedge of this heel, degrees (for the breast)",
            3.0,
            0.5,
        ),
    ],
    mind: "",
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
        [
            "It was ",
            &given.say(was),
            " at the back: ",
            &given.say(worn),
            " are worn away.",
        ]
        .concat()
    } else {
        ["It was ", &given.say(was), " at the back: nothing is worn away."].concat()
    };
    Ok(CalcAnswer::new(say))
}

pub(super) const LEVEL: Helper = Helper {
    what: "level",
    title: "Level the pair",
    choices: &[],
    numbers: &[
        NumberField::length("left_back_mm", "Left, at the back", 30.0, 0.5),
        NumberField::length("left_breast_mm", "Left, at the breast", 26.0, 0.5),
        NumberField::length("right_back_mm", "Right, at the back", 30.0, 0.5),
        NumberField::length("right_breast_mm", "Right, at the breast", 26.0, 0.5),
        LENGTH,
    ],
    mind: "",
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
        CalcAnswer::new("They stand alike: within 1 mm and 1 degree.".to_owned())
    } else {
        let mut answer = CalcAnswer::new(changes(given, "Take ", " off the ", &levelled.take_off));
        answer
            .more
            .push(changes(given, "Or put ", " on the ", &levelled.add));
        answer
    };
    let wedge = rounded(levelled.wedge_difference_deg, 1);
    answer
        .more
        .push(["The wedges differ by ", &wedge, " degrees, left less right."].concat());
    Ok(answer)
}

fn changes(given: &CalcInput<'_>, verb: &str, of: &str, all: &[LevelChange]) -> String {
    let one = |change: &LevelChange| {
        let side = match change.side {
            Side::Left => "left",
            Side::Right => "right",
        };
        let place = match change.place {
            HeelPlace::Back => ", at the back",
            HeelPlace::Breast => ", at the breast",
        };
        [&given.say(change.mm), of, side, place].concat()
    };
    let all: Vec<_> = all.iter().map(one).collect();
    [verb, &all.join("; "), "."].concat()
}

pub(super) const CORNER: Helper = Helper {
    what: "corner",
    title: "Corner line",
    choices: &[],
    numbers: &[
        NumberField::length("outer_back_mm", "Worn at the outer back corner", 6.0, 0.5),
        NumberField::length("inner_back_mm", "Worn at the inner back corner", 1.0, 0.5),
        NumberField::length("outer_breast_mm", "Worn at the outer breast corner", 0.0, 0.5),
        NumberField::length("keep_mm", "Wear that leather may keep", 1.0, 0.5),
        WIDTH,
        LENGTH,
    ],
    mind: "",
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
        Some(angle) => [
            "Cut along the line, ",
            &rounded(angle, 0),
            " degrees to the breast.",
        ]
        .concat(),
        None if parted.rubber_mm2 > 0.0 => "All rubber: it is worn deeper than that everywhere.".to_owned(),
        None => "All leather: nowhere is it worn deeper than that.".to_owned(),
    };
    let mut answer = CalcAnswer::new(say);
    answer.more.push(format!(
        "Rubber {} cm², leather {} cm², each heel.",
        square_cm(parted.rubber_mm2),
        square_cm(parted.leather_mm2)
    ));
    answer
        .more
        .push(["The worn facet tilts ", &rounded(plane.tilt_deg, 1), " degrees."].concat());
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
