//! The bench plan: in which order the work of all pairs is done, so that they are done by the promised days.
//!
//! [`Instance`] is the problem, [`solve()`] solves it, [`Plan`] is the answer. All times are whole minutes; the same
//! instance with the same limits gives the same plan on every machine.
//!
//! - `instance`, `answer`: the input and the output; `json`: reads the input for the command line.
//! - `calendar`, `problem`, `value`: the input and the cost of a plan in the form in which the searches use them.
//! - `capacity`: how much work must be done by when, without the exact places of operations.
//! - `construct`: schedules from choices. `dispatch`: the first orders, by a dispatching rule; `beam` (with `offers`,
//!   `schedule`): from the times by which pairs are to be done; `serial_schedule` (with `putting`): runs choose the earliest
//!   gaps in order of priority; `timetable`: from an order of all operations; `place`: where one operation can be placed.
//! - `search`: better choices. `slot_assignment`: by when each pair is done, if only the minutes of work in each slot
//!   counted; `goals`: over such choices, with the beam; `priority_search`: over priorities; `local_search`: over orders;
//!   `exact`: the optimal plan of very little work; `moves`: what the searches share.
//! - `bound`: a lower bound, by Lagrangian relaxation.
//! - `random_series`: random numbers that are the same everywhere.
//! - `promise`, `lognormal`: the day to promise for one more pair.
//! - `alike`: of pairs with equal work, the one due earlier goes first. `one_go`: the longest run that makes no pair
//!   later.
//! - `alone`: when one pair could be done if it were the only one.
//! - `schedule`: where all operations lie, and the plan made from it.
//! - `kept_place`, `standing`: the plan that stands, from which a new one differs only for a reason.
//! - `solve`: all of this together.
//!
//!
#![doc = include_str!("README.md")]

mod alike;
mod alone;
mod answer;
mod bound;
mod calendar;
mod capacity;
mod construct;
mod instance;
#[cfg(feature = "calc")]
pub mod json;
mod kept_place;
mod lognormal;
mod one_go;
mod problem;
mod promise;
mod random_series;
mod schedule;
mod search;
mod solve;
mod standing;
mod value;

pub use alone::{Alone, alone};
pub use answer::{LeftOut, PairOutcome, Plan, PlannedOperation, Reason};
pub use instance::{Instance, PlanOperation, PlanPair, PossibleDamage};
pub use one_go::in_one_go;
pub use promise::{Promise, PromiseDay, days, promise};
pub use solve::{SolveLimits, replan, slide, solve};
pub use standing::{MARGIN, StandingOperation, StandingPlan, Top, USUAL_WEIGHT};

#[cfg(test)]
mod tests;
