//! Thread for a seam.

use shared::trade::formulas::thread::{Seam, Stitch};
use shared::trade::formulas::{Calculation, InvalidField};

use super::lengths::rounded;
use super::{CalcAnswer, CalcInput, ChoiceField, Helper, NumberField};

pub(super) const THREAD: Helper = Helper {
    what: "thread",
    title: "Thread",
    choices: &[ChoiceField {
        name: "stitch",
        label: "Stitch",
        options: &[
            ("301", "Two threads, locked"),
            ("101", "One thread, chained"),
            ("401", "Two threads, chained"),
            ("saddle", "By hand, two ends"),
        ],
    }],
    numbers: &[
        NumberField::length("seam_mm", "Seam", 560.0, 10.0),
        NumberField::length("thickness_mm", "All that is sewn through", 10.0, 0.5),
        NumberField::plain("spi", "Stitches to the inch", 8.0, 1.0),
        NumberField::plain("waste_percent", "Wasted, %", 15.0, 5.0),
    ],
    mind: "",
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
        "waste" => InvalidField::new("waste_percent", "from 0 to 100"),
        _ => refused,
    })?;
    let metres = [&rounded(thread.with_waste_mm / 1000.0, 1), " m"].concat();
    let mut answer = CalcAnswer::new(["Measure off ", &metres, " of thread, all threads together."].concat());
    answer.more.push(format!(
        "About {} stitches of {}; the shoe takes {} times its seam.",
        rounded(thread.stitches, 0),
        given.say(thread.pitch_mm),
        rounded(thread.ratio, 1)
    ));
    if stitch == Stitch::Saddle {
        answer
            .more
            .push("An arm's length for each end comes on top.".to_owned());
    }
    Ok(answer)
}
