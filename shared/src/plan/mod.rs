//! The bench plan: in which order the work of all pairs is done, so that they are done by the day promised.
//!
//! [`Instance`] is what is to be planned, [`solve()`] plans it, [`Plan`] is the answer. All in whole minutes; the same
//! instance with the same limits gives the same plan on every machine.
//!
//! - `instance`, `answer`: what comes in and goes out.
//! - `calendar`, `problem`, `value`: the same as numbers. `place`: where one operation can be put.
//! - `timing`: an order of operations as a schedule, and a changed order against the one that stands.
//! - `dispatch`: the first order.
//! - `loads`, `choosing`: by when each pair is done, as if only the minutes of work of each day counted.
//! - `beam` (`offers`: what may be done next): choices carried through the days. `goals`: the search over choices with it.
//! - `packing` (`putting`: one run), `ranks`: which run of a pair's operations chooses its time first, and the search over that.
//! - `orders`: the search over the order of operations.
//! - `moves`, `chance`: what the searches share.
//! - `exact`: very little work, proven. `bound`, `prices`: what is late at least.
//! - `promise`, `lognormal`: the day to promise for one more pair.
//! - `alike`: what is promised sooner goes first where nothing else differs. `one_go`: the longest run that makes nobody later.
//! - `alone`: a pair with nothing beside it.
//! - `schedule`: the answer in the words of the instance.
//!
#![doc = include_str!("README.md")]

mod alike;
mod alone;
mod answer;
mod beam;
mod bound;
mod calendar;
mod capacity;
mod chance;
mod dispatch;
mod exact;
mod goals;
mod instance;
#[cfg(feature = "calc")]
pub mod json;
mod lagrangian_bound;
mod local_search;
mod lognormal;
mod moves;
mod one_go;
mod place;
mod priority_search;
mod problem;
mod promise;
mod schedule;
mod serial_schedule;
mod slot_assignment;
mod solve;
mod timetable;
mod value;

pub use alone::{Alone, alone};
pub use answer::{LeftOut, PairOutcome, Plan, PlannedOperation, Reason};
pub use instance::{Instance, PlanOperation, PlanPair, PossibleDamage};
pub use one_go::in_one_go;
pub use promise::{Promise, PromiseDay, days, promise};
pub use solve::{SolveLimits, solve};

#[cfg(test)]
mod tests;
