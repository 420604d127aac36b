//! The place that an operation should keep in a new plan, and what it costs if it does not.

/// Parts of a weighted minute late, in which the cost of a minute of difference is counted.
const PARTS: u64 = 256;
/// The most minutes by which a single operation counts as moved.
const FARTHEST: i64 = 24 * 60;
/// The minutes of a day.
pub(super) const DAY: i64 = 24 * 60;

/// The place that an operation should keep, and what it costs if it does not, in weighted minutes late.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub(super) struct KeptPlace {
    /// When it ends in the plan that stands.
    pub(super) end: i64,
    /// The cost of each minute of difference, in parts of [`PARTS`].
    pub(super) per_minute: u64,
    /// When the day begins on which its pair is done.
    pub(super) day: i64,
    /// The cost of being done on another day.
    pub(super) other_day: u64,
    /// The cost of ending later than it stands.
    pub(super) later: u64,
}

impl KeptPlace {
    /// The cost of an operation that ends at `end`, and whose wait is over at `done`.
    #[inline]
    pub(super) fn change(&self, end: i64, done: i64) -> u64 {
        let moved = (end - self.end).abs().min(FARTHEST) as u64;
        let mut cost = moved * self.per_minute / PARTS;
        if self.other_day > 0 && !(self.day..self.day + DAY).contains(&done) {
            cost += self.other_day;
        }
        if end > self.end {
            cost += self.later;
        }
        cost
    }

    /// Whether it has no place to keep.
    #[inline]
    pub(super) fn is_free(&self) -> bool {
        self.per_minute | self.other_day | self.later == 0
    }
}
