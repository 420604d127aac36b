//! A pair with nothing beside it: what any plan can do for it at best.

use super::instance::{Instance, PlanPair};
use super::problem::PlanProblem;

/// What comes of a pair if nothing else is done.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Alone {
    /// The minute it is done at the earliest.
    pub done: i64,
    /// Its first operation begins by then at the latest for the pair to be in time, waits and windows reckoned with. None
    /// without a due time.
    pub begin_by: Option<i64>,
}

/// The pair as if it were the only one of the instance; None if it cannot be planned at all.
pub fn alone(instance: &Instance, pair: &PlanPair) -> Option<Alone> {
    let only = Instance {
        pairs: vec![pair.clone()],
        ..instance.clone()
    };
    let (problem, _) = PlanProblem::new(&only);
    let first = problem.ops.first()?;
    let done = problem.alone(0).ok()? + instance.now;
    let begin_by = pair.due.map(|_| first.milestone - first.minutes + instance.now);
    Some(Alone { done, begin_by })
}
