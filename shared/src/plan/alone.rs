//! When one pair could be done if it were the only one: a bound for any plan.

use super::instance::{Instance, PlanPair};
use super::problem::PlanProblem;

/// The result for a pair when no other work is done.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Alone {
    /// The earliest minute at which it can be done.
    pub done: i64,
    /// The latest minute at which its first operation can begin so that the pair is in time, with its waits and the
    /// windows taken into account. None for a pair without a due time.
    pub begin_by: Option<i64>,
}

/// The result for the pair as if it were the only one of the instance; None if it cannot be planned at all.
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
