//! The arithmetic as JSON: one object in, one object out, numbers not rounded.
//!
//! [`CALCULATIONS`] is the one table: `waxend calc` runs it, `waxend calc --list` prints it, the tests go through it.

mod list;
mod shape;

use serde_json::Value;

use super::formulas::{self, AnswerField, Calculation, Field};
use crate::{price, wear};

pub use super::formulas::InvalidField;
pub use list::list;

/// A calculation by its name.
#[derive(Debug, Clone, Copy)]
pub struct CalculationEntry {
    /// What it is called.
    pub name: &'static str,
    /// What it takes.
    pub takes: &'static [Field],
    /// What it answers.
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
/// That there is none by this name, with the names there are.
pub fn entry(name: &str) -> Result<&'static CalculationEntry, InvalidField> {
    CALCULATIONS
        .iter()
        .find(|entry| entry.name == name)
        .ok_or_else(|| {
            let names: Vec<_> = CALCULATIONS.iter().map(|entry| entry.name).collect();
            InvalidField::new("NAME", format!("one of {}", names.join(", ")))
        })
}

/// Answers one JSON object with another.
///
/// # Errors
/// The field that is wrong, missing or unknown, and what is allowed: one line.
pub fn calc(name: &str, json: &str) -> Result<Value, InvalidField> {
    (entry(name)?.run)(json)
}

fn run<C: Calculation>(json: &str) -> Result<Value, InvalidField> {
    let answer = shape::read::<C>(json)?.reckon()?;
    // Finite in, finite out; if a number ever were not, JSON could not say it and would say null.
    serde_json::to_value(answer).map_err(|error| InvalidField::new("input", error.to_string()))
}

#[cfg(test)]
mod tests;
