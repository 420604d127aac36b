//! What a plan costs.

use super::problem::{Op, PlanProblem};

/// What a plan costs: less is better, the first that differs decides. With `guide` it is what the search goes by.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct PlanCost {
    /// Weight of the pairs left out, each at least 1.
    pub(super) out: u64,
    /// Sum of the ends of the operations of the pairs to do first.
    pub(super) first: u64,
    /// Weighted minutes late, [`GUIDE`] times, and those of all operations past their milestones: a pair that comes
    /// nearer to its day without reaching it counts for something.
    pub(super) guide: u64,
    /// Weighted minutes late.
    pub(super) late: u64,
    /// Sum of the times at which the pairs are done.
    pub(super) sum: u64,
}

/// How much being late weighs against operations past their milestones.
const GUIDE: u64 = 4;

impl PlanCost {
    /// With what an operation adds that ends at `end`.
    #[inline]
    pub(super) fn with(mut self, problem: &PlanProblem, op: &Op, end: i64) -> Self {
        let pair = &problem.pairs[op.pair as usize];
        if pair.pinned {
            self.first += end as u64;
        }
        let beyond = end >= problem.calendar.overflow;
        if !op.is_last {
            if !beyond {
                self.guide += pair.weight * (end - op.milestone).max(0) as u64;
            }
        } else if beyond {
            self.out += pair.weight.max(1);
        } else {
            let done = end + op.wait;
            let late = pair.weight * (done - pair.due).max(0) as u64;
            self.guide += GUIDE * late;
            self.late += late;
            self.sum += done as u64;
        }
        self
    }

    /// What the plan is judged by.
    pub(super) fn cost(&self) -> (u64, u64, u64, u64) {
        (self.out, self.first, self.late, self.sum)
    }

    /// Whether nothing is late and nothing left out, and there is nothing to be done first.
    pub(super) fn is_in_time(&self) -> bool {
        (self.out, self.first, self.late) == (0, 0, 0)
    }

    /// Both together.
    pub(super) fn plus(&self, other: &Self) -> Self {
        Self {
            out: self.out.wrapping_add(other.out),
            first: self.first.wrapping_add(other.first),
            guide: self.guide.wrapping_add(other.guide),
            late: self.late.wrapping_add(other.late),
            sum: self.sum.wrapping_add(other.sum),
        }
    }

    /// What is left without the other.
    pub(super) fn less(&self, other: &Self) -> Self {
        Self {
            out: self.out.wrapping_sub(other.out),
            first: self.first.wrapping_sub(other.first),
            guide: self.guide.wrapping_sub(other.guide),
            late: self.late.wrapping_sub(other.late),
            sum: self.sum.wrapping_sub(other.sum),
        }
    }
}
