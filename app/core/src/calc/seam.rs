//! Thread for a seam.

use shared::trade::formulas::thread::{Seam, Stitch};
use shared::trade::formulas::{Calculation, InvalidField};

use super::lengths::rounded;
use super::{CalcAnswer, CalcInput, ChoiceField, Helper, NumberField};

/// The share that is wasted is common practice, no source; it is behind "More".
pub(super) const THREAD: Helper = Helper {
    what: "thread",
    choices: &[ChoiceField {
        name: "stitch",
        options: &["301", "101", "401", "saddle"],
    }],
    numbers: &[
        NumberField::length("seam_mm", 560.0, 10.0),
        NumberField::length("thickness_mm", 10.0, 0.5),
        NumberField::plain("spi", 8.0, 1.0),
        NumberField::plain("waste_percent", 15.0, 5.0).behind(),
    ],
    calculate,
};

fn calculate(given: &CalcInput<'_>) -> Result<CalcAnswer, InvalidField> {
    let stitch = given.choice("stitch")?;
    let thread = Seam {
        stitch,
        seam_mm: given.of("seam_mm"),
        thickness_mm: given.of("thickness_mm"),
        spi: given.of("spi"),
        waste: given.of("waste_percent") / 100.0,
    }
    .calculate()
    .map_err(|refused| match refused.field.as_str() {
        "waste" => InvalidField::new("waste_percent", words::calc::from_to(0, 100)),
        _ => refused,
    })?;
    let metres = rounded(thread.with_waste_mm / 1000.0, 1);
    let mut answer = CalcAnswer::new(words::calc::seam::measure_off(&metres));
    answer.more.push(words::calc::seam::stitches_and_ratio(
        &rounded(thread.stitches, 0),
        &given.say(thread.pitch_mm),
        &rounded(thread.ratio, 1),
    ));
    if stitch == Stitch::Saddle {
        answer
            .more
            .push(words::calc::seam::arms_length_on_top().to_owned());
    }
    Ok(answer)
}
