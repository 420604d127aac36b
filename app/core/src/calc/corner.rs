//! The line of a combination top piece: where rubber and leather meet.

use shared::trade::formulas::corner_line::CornerLine;
use shared::trade::formulas::facet::WearPlane;
use shared::trade::formulas::{Calculation, InvalidField};

use super::heel::{LENGTH, WIDTH, heel_outline};
use super::lengths::rounded;
use super::{CalcAnswer, CalcInput, ChoiceField, Helper, NumberField, Sketch};

/// The wear is measured at the outer back corner, where it is deepest: as a depth, or as the heights before and now.
/// The other two corners and what leather may keep are usual (common practice, no source), and behind "More".
pub(super) const CORNER: Helper = Helper {
    what: "corner",
    choices: &[ChoiceField {
        name: "measured",
        options: &["depth", "heights"],
    }],
    numbers: &[
        NumberField::length("outer_back_mm", 6.0, 0.5).with("measured", "depth"),
        NumberField::length("was_mm", 30.0, 0.5).with("measured", "heights"),
        NumberField::length("now_mm", 24.0, 0.5).with("measured", "heights"),
        WIDTH,
        LENGTH,
        NumberField::length("inner_back_mm", 1.0, 0.5).behind(),
        NumberField::length("outer_breast_mm", 0.0, 0.5).behind(),
        NumberField::length("keep_mm", 1.0, 0.5).behind(),
    ],
    calculate: corner,
};

/// How deep it is worn at the outer back corner, mm.
fn outer_back(given: &CalcInput<'_>) -> Result<f64, InvalidField> {
    if given.word("measured") != "heights" {
        return depth(given, "outer_back_mm");
    }
    let worn = depth(given, "was_mm")? - depth(given, "now_mm")?;
    if worn < 0.0 {
        let allowed = words::calc::heel::no_more_than_it_was();
        return Err(InvalidField::new("now_mm", allowed));
    }
    Ok(worn)
}

/// A depth of wear or a height of a heel, which is typed without a sign.
fn depth(given: &CalcInput<'_>, field: &str) -> Result<f64, InvalidField> {
    let depth = given.of(field);
    if depth < 0.0 {
        let allowed = words::calc::heel::without_a_minus(&given.say(-depth));
        return Err(InvalidField::new(field, allowed));
    }
    Ok(depth)
}

fn corner(given: &CalcInput<'_>) -> Result<CalcAnswer, InvalidField> {
    let (width, length) = (given.of(WIDTH.name), given.of(LENGTH.name));
    let outline = heel_outline(width, length);
    let half = width / 2.0;
    let facet_mm = vec![
        [half, 0.0, -outer_back(given)?],
        [-half, 0.0, -depth(given, "inner_back_mm")?],
        [half, length, -depth(given, "outer_breast_mm")?],
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
