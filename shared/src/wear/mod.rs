//! How long parts last: what a shop's own records say, also of pairs that have not come back yet.
//!
//! - [`kaplan_meier`][]: the share that still holds, without any law assumed.
//! - [`weibull`][] and [`weibull_interval`][]: wearing out as a law, from exact times or from visits.
//! - [`wear_forecast`][]: one part that was measured now and then, and the day it reaches its limit.
//! - [`part_life`][]: how long a shop's parts last by what visits saw of them, and when a pair should be looked at next;
//!   [`season`] puts a day into words.
//! - [`put_on`]: which parts a pair has been given, and until when each was on.
//!
//! Times are in one unit, whichever the caller counts in; the answers are in the same.

pub mod kaplan_meier;
pub mod part_life;
pub mod put_on;
pub mod season;
pub mod wear_forecast;
pub mod weibull;
pub mod weibull_interval;

use crate::trade::formulas::Allowed;

/// As many observations as one calculation takes.
const MOST: usize = 100_000;
/// The longest time, in whatever unit.
const LONGEST: f64 = 1e9;
/// The shortest time after which something can fail.
const SHORTEST: f64 = 1e-9;

/// A list of times, each above nothing.
const fn times(fewest: usize) -> Allowed {
    Allowed::Numbers(fewest, MOST, SHORTEST, LONGEST)
}
