//! How much leather to buy for pieces to be cut.

use shared::trade::formulas::area::CutPieces;
use shared::trade::formulas::{Calculation, InvalidField};

use super::lengths::{Lengths, rounded};
use super::{CalcAnswer, CalcInput, Helper, NumberField};

pub(super) const LEATHER: Helper = Helper {
    what: "leather",
    title: "Leather",
    choices: &[],
    numbers: &[
        NumberField::length("length_mm", "One piece, its length", 280.0, 5.0),
        NumberField::length("width_mm", "One piece, its width", 100.0, 5.0),
        NumberField::plain("count", "Pieces", 2.0, 1.0),
        NumberField::plain("yield_percent", "Used of what is bought, %", 75.0, 5.0),
    ],
    mind: "",
    calculate,
};

fn calculate(given: &CalcInput<'_>) -> Result<CalcAnswer, InvalidField> {
    let (length, width) = (given.of("length_mm"), given.of("width_mm"));
    let area = CutPieces {
        outline_mm: vec![[0.0, 0.0], [length, 0.0], [length, width], [0.0, width]],
        used: given.of("yield_percent") / 100.0,
        // The calculation refuses a number that is out of range.
        count: given.of("count").round() as u32,
    }
    .calculate()
    .map_err(|refused| match refused.field.as_str() {
        "yield" => InvalidField::new("yield_percent", "from 5 to 100"),
        "outline_mm" => InvalidField::new("length_mm", "a length and a width of more than nothing"),
        _ => refused,
    })?;
    let dm2 = [&rounded(area.buy_dm2, 1), " dm²"].concat();
    let ft2 = [&rounded(area.buy_ft2, 2), " square feet"].concat();
    let (buy, also) = match given.lengths {
        Lengths::Mm => (dm2, ft2),
        Lengths::Inch => (ft2, dm2),
    };
    let mut answer = CalcAnswer::new(["Buy ", &buy, ", or find it on the shelf."].concat());
    answer.more.push(
        [
            &also,
            ". Each piece ",
            &rounded(area.each_dm2, 2),
            " dm², as the rectangle round it.",
        ]
        .concat(),
    );
    Ok(answer)
}
