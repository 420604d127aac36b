//! Schedules as far as they have come.

use super::super::problem::{Spot, WorkerState};

/// A schedule as far as it has come.
#[derive(Debug, Clone, Default)]
pub(super) struct PartialSchedule {
    pub(super) workers: Vec<WorkerState>,
    /// The pairs that are not done.
    pub(super) fronts: Vec<PairProgress>,
    /// Minutes of work left that must be done in each slot at the latest.
    pub(super) need: Vec<i32>,
    /// Weighted minutes late of the pairs that are done, and of the others by what they have chosen.
    pub(super) late: i64,
    /// Which operations are done.
    pub(super) hash: u64,
    /// The last of them, by its place in the history.
    pub(super) last: u32,
    /// So many that follow it wait for their layers.
    pub(super) pending: u32,
}

/// How far a pair has come.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct PairProgress {
    pub(super) pair: u32,
    pub(super) next: u32,
    pub(super) choice: u32,
    /// The join window before the next operation is to be kept.
    pub(super) kept: bool,
    /// The next operation may start from here on,
    pub(super) after: i64,
    /// and costs no more until here.
    pub(super) limit: i64,
    /// It must start by then for the choice to be kept.
    pub(super) by: i64,
}

/// A state with one operation more.
#[derive(Debug, Clone, Copy)]
pub(super) struct Child {
    pub(super) cost: i64,
    /// Minutes of open time behind it.
    pub(super) used: i64,
    pub(super) hash: u64,
    pub(super) parent: u32,
    /// Whose operation, by the place among the parent's fronts.
    pub(super) front: u32,
    pub(super) spot: Spot,
}

impl Child {
    /// The better one first.
    pub(super) fn key(&self) -> (i64, i64, u64, u32) {
        (self.cost, self.used, self.hash, self.parent)
    }
}
