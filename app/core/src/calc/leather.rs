//! How much leather to buy for pieces to be cut.

use shared::trade::formulas::area::CutPieces;
use shared::trade::formulas::{Calculation, InvalidField};

use super::lengths::{Lengths, rounded};
use super::{CalcAnswer, CalcInput, Helper, NumberField};

/// The share that is used of what is bought is common practice, no source; it is behind "More".
pub(super) const LEATHER: Helper = Helper {
    what: "leather",
    choices: &[],
    numbers: &[
        NumberField::length("length_mm", 280.0, 5.0),
        NumberField::length("width_mm", 100.0, 5.0),
        NumberField::plain("count", 2.0, 1.0).holding(),
        NumberField::plain("yield_percent", 75.0, 5.0).behind(),
    ],
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
        "yield" => InvalidField::new("yield_percent", words::calc::from_to(5, 100)),
        "outline_mm" => {
            let allowed = words::calc::leather::length_and_width_of_more_than_nothing();
            InvalidField::new("length_mm", allowed)
        }
        _ => refused,
    })?;
    let dm2 = words::calc::leather::square_decimetres(&rounded(area.buy_dm2, 1));
    let ft2 = words::calc::leather::square_feet(&rounded(area.buy_ft2, 2));
    let (buy, also) = match given.lengths {
        Lengths::Mm => (dm2, ft2),
        Lengths::Inch => (ft2, dm2),
    };
    let mut answer = CalcAnswer::new(words::calc::leather::buy(&buy));
    let each_dm2 = rounded(area.each_dm2, 2);
    answer
        .more
        .push(words::calc::leather::also_and_each_piece(&also, &each_dm2));
    Ok(answer)
}
