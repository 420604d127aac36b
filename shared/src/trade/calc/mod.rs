//! The calculations on JSON: one object in, one object out, numbers not rounded.
//!
//! [`CALCULATIONS`] is the only table of them: `waxend calc` runs it, `waxend calc --list` prints it, the tests cover
//! all of it.

mod list;
mod shape;

use serde_json::Value;

use super::formulas::{self, AnswerField, Calculation, Field};
use crate::{price, wear};

pub use super::formulas::InvalidField;
pub use list::list;

/// A calculation in the table.
#[derive(Debug, Clone, Copy)]
pub struct CalculationEntry {
    /// Its name.
    pub name: &'static str,
    /// The fields of its input.
    pub takes: &'static [Field],
    /// The fields of its answer.
    pub gives: &'static [AnswerField],
    run: fn(&str) -> Result<Value, InvalidField>,
}

/// Every calculation.
pub const CALCULATIONS: &[CalculationEntry] = &[
    of::<formulas::size::Foot>(),
    of::<formulas::unit::Convert>(),
    of::<formulas::heel::Heel>(),
    of::<formulas::heel::Pitch>(),
    of::<formulas::facet::WearPlane>(),
    of::<formulas::level_pair::HeelPair>(),
    of::<formulas::nails::Nailing>(),
    of::<formulas::lifts::Stack>(),
    of::<formulas::corner_line::CornerLine>(),
    of::<formulas::thread::Seam>(),
    of::<formulas::area::CutPieces>(),
    of::<formulas::rectify::Photograph>(),
    of::<formulas::colour::Colours>(),
    of::<formulas::print_check::CheckBar>(),
    of::<formulas::ready::Started>(),
    of::<wear::kaplan_meier::Observations>(),
    of::<wear::weibull::Censored>(),
    of::<wear::weibull_interval::Intervals>(),
    of::<wear::wear_forecast::Measurements>(),
    of::<price::allowance::AllowanceInput>(),
    of::<price::estimate::EstimateJob>(),
    of::<price::minutes::StampDay>(),
    of::<price::choices::Ways>(),
];

const fn of<C: Calculation>() -> CalculationEntry {
    CalculationEntry {
        name: C::NAME,
        takes: C::TAKES,
        gives: C::GIVES,
        run: run::<C>,
    }
}

/// Looks a calculation up.
///
/// # Errors
/// The name is unknown; the message lists the known names.
pub fn entry(name: &str) -> Result<&'static CalculationEntry, InvalidField> {
    CALCULATIONS
        .iter()
        .find(|entry| entry.name == name)
        .ok_or_else(|| {
            let names: Vec<_> = CALCULATIONS.iter().map(|entry| entry.name).collect();
            InvalidField::new("NAME", format!("one of {}", names.join(", ")))
        })
}

/// Runs a calculation on one JSON object.
///
/// # Errors
/// The field that is wrong, missing or unknown, and what is allowed there, in one line.
pub fn calc(name: &str, json: &str) -> Result<Value, InvalidField> {
    (entry(name)?.run)(json)
}

fn run<C: Calculation>(json: &str) -> Result<Value, InvalidField> {
    let answer = shape::read::<C>(json)?.calculate()?;
    // Finite inputs give finite answers; JSON would write any other number as null.
    serde_json::to_value(answer).map_err(|error| InvalidField::new("input", error.to_string()))
}

#[cfg(test)]
mod tests;
