//! The bench plan: in which order the work of all pairs is done, so that they are done by the promised days.
//!
//! [`Instance`] is the problem, [`solve()`] solves it, [`Plan`] is the answer. All times are whole minutes; the same
//! instance with the same limits gives the same plan on every machine.
//!
//! - `instance`, `answer`: the input and the output; `json`: reads the input for the command line.
//! - `calendar`, `problem`, `value`: the input and the cost of a plan in the form in which the searches use them.
//! - `place`: where one operation can be placed.
//! - `dispatch`: the first orders, by a dispatching rule.
//! - `capacity`, `slot_assignment`: by when each pair is done, if only the minutes of work in each slot counted.
//! - `beam` (with `offers`, `schedule`): turns such choices into a schedule. `goals`: the search over choices with it.
//! - `serial_schedule` (with `putting`), `priority_search`: runs choose the earliest gaps in order of priority, and the
//!   search over priorities.
//! - `timetable`, `local_search`: the schedule of an order of all operations, and the search over orders.
//! - `moves`, `random_series`: what the searches share.
//! - `exact`: the optimal plan of very little work. `bound`, `lagrangian_bound`: lower bounds.
//! - `promise`, `lognormal`: the day to promise for one more pair.
//! - `alike`: of pairs with equal work, the one due earlier goes first. `one_go`: the longest run that makes no pair
//!   later.
//! - `alone`: when one pair could be done if it were the only one.
//! - `schedule`: where all operations lie, and the plan made from it.
//! - `solve`: all of this together.
//!
//!
#![doc = include_str!("README.md")]

mod alike;
mod alone;
mod answer;
mod beam;
mod bound;
mod calendar;
mod capacity;
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
mod random_series;
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
