//! The arithmetic as JSON: one object in, one object out, numbers not rounded.
//!
//! [`CALCULATIONS`] is the one table: `waxend calc` runs it, `waxend calc --list` prints it, the tests go through it.

mod list;
mod shape;

use serde_json::Value;

use super::reckon::{self, Calculation, Field, Given};
use crate::{price, wear};

pub use super::reckon::Refused;
pub use list::list;

/// A calculation by its name.
#[derive(Debug, Clone, Copy)]
pub struct Entry {
    /// What it is called.
    pub name: &'static str,
    /// What it takes.
    pub takes: &'static [Field],
    /// What it answers.
    pub gives: &'static [Given],
    run: fn(&str) -> Result<Value, Refused>,
}

/// Every calculation.
pub const CALCULATIONS: &[Entry] = &[
    of::<reckon::size::Foot>(),
    of::<reckon::unit::Convert>(),
    of::<reckon::heel::Heel>(),
    of::<reckon::heel::Pitch>(),
    of::<reckon::facet::WearPlane>(),
    of::<reckon::level_pair::Pair>(),
    of::<reckon::nails::Nailing>(),
    of::<reckon::lifts::Stack>(),
    of::<reckon::corner_line::CornerLine>(),
    of::<reckon::thread::Seam>(),
    of::<reckon::area::Cut>(),
    of::<reckon::rectify::Photograph>(),
    of::<reckon::colour::Colours>(),
    of::<reckon::print_check::CheckBar>(),
    of::<reckon::ready::Started>(),
    of::<wear::kaplan_meier::Lives>(),
    of::<wear::weibull::Censored>(),
    of::<wear::weibull_interval::Intervals>(),
    of::<wear::wear_forecast::Measurements>(),
    of::<price::allowance::Asked>(),
    of::<price::estimate::Job>(),
    of::<price::minutes::Asked>(),
    of::<price::choices::Ways>(),
];

const fn of<C: Calculation>() -> Entry {
    Entry {
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
pub fn entry(name: &str) -> Result<&'static Entry, Refused> {
    CALCULATIONS
        .iter()
        .find(|entry| entry.name == name)
        .ok_or_else(|| {
            let names: Vec<_> = CALCULATIONS.iter().map(|entry| entry.name).collect();
            Refused::new("NAME", format!("one of {}", names.join(", ")))
        })
}

/// Answers one JSON object with another.
///
/// # Errors
/// The field that is wrong, missing or unknown, and what is allowed: one line.
pub fn calc(name: &str, json: &str) -> Result<Value, Refused> {
    (entry(name)?.run)(json)
}

fn run<C: Calculation>(json: &str) -> Result<Value, Refused> {
    let answer = shape::read::<C>(json)?.reckon()?;
    // Finite in, finite out; if a number ever were not, JSON could not say it and would say null.
    serde_json::to_value(answer).map_err(|error| Refused::new("input", error.to_string()))
}

#[cfg(test)]
mod tests;
