//! How long parts last, estimated from a shop's own records, including pairs that have not come back.
//!
//! - [`kaplan_meier`][]: the share of parts that survive, without an assumed distribution.
//! - [`weibull`][] and [`weibull_interval`][]: a Weibull distribution of the life, from exact times of failure or from
//!   visits.
//! - [`wear_forecast`][]: the day on which one part that was measured several times reaches its limit.
//! - [`part_life`][]: how long a shop's parts last, from what was seen of them at visits, and when a pair should be
//!   checked next; [`season`] puts a day into words.
//! - [`put_on`]: which parts were put on a pair, and until when each was on.
//! - [`guards`]: when a guard lay over the sole, which hides the sole.
//!
//! All times of one calculation are in one unit, which the caller chooses; the results are in the same unit.

pub mod guards;
pub mod kaplan_meier;
pub mod part_life;
pub mod put_on;
pub mod season;
pub mod wear_forecast;
pub mod weibull;
pub mod weibull_interval;

use crate::trade::formulas::Allowed;

/// The greatest number of observations of one calculation.
const MOST: usize = 100_000;
/// The greatest time, in any unit.
const LONGEST: f64 = 1e9;
/// The least time of a failure.
const SHORTEST: f64 = 1e-9;

/// A list of times above 0.
const fn times(fewest: usize) -> Allowed {
    Allowed::Numbers(fewest, MOST, SHORTEST, LONGEST)
}
