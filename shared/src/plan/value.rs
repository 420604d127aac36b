//! The cost of a plan.

use super::problem::{Op, PlanProblem};

/// The cost of a plan: a smaller one is better, and the first field that differs decides. The searches compare it with
/// `guide`.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct PlanCost {
    /// The sum of the weights of the pairs left out, each counted as at least 1.
    pub(super) out: u64,
    /// The sum of the ends of the operations of the pairs that are to be done first.
    pub(super) first: u64,
    /// The weighted minutes late times [`GUIDE`], plus the weighted minutes of all operations past their milestones: so
    /// it counts for something if a late pair comes nearer to its due time.
    pub(super) guide: u64,
    /// Weighted minutes late.
    pub(super) late: u64,
    /// What the changes from the plan that stands cost, in weighted minutes late.
    pub(super) change: u64,
    /// The sum of the minutes at which the pairs are done.
    pub(super) sum: u64,
}

/// The weight of being late relative to operations past their milestones.
const GUIDE: u64 = 4;

impl PlanCost {
    /// The cost with one more operation of the problem, which ends at `end`.
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
        if !op.place.is_free() {
            let change = op.place.change(end, end + op.wait);
            self.guide += GUIDE * change;
            self.change += change;
        }
        self
    }

    /// The cost by which plans are finally judged, without `guide`.
    pub(super) fn cost(&self) -> (u64, u64, u64, u64) {
        (self.out, self.first, self.late + self.change, self.sum)
    }

    /// Whether nothing is late or left out, and no pair is to be done first.
    pub(super) fn is_in_time(&self) -> bool {
        (self.out, self.first, self.late) == (0, 0, 0)
    }

    /// The sum of both costs.
    pub(super) fn plus(&self, other: &Self) -> Self {
        Self {
            out: self.out.wrapping_add(other.out),
            first: self.first.wrapping_add(other.first),
            guide: self.guide.wrapping_add(other.guide),
            late: self.late.wrapping_add(other.late),
            change: self.change.wrapping_add(other.change),
            sum: self.sum.wrapping_add(other.sum),
        }
    }

    /// The cost minus the other.
    pub(super) fn less(&self, other: &Self) -> Self {
        Self {
            out: self.out.wrapping_sub(other.out),
            first: self.first.wrapping_sub(other.first),
            guide: self.guide.wrapping_sub(other.guide),
            late: self.late.wrapping_sub(other.late),
            change: self.change.wrapping_sub(other.change),
            sum: self.sum.wrapping_sub(other.sum),
        }
    }
}
