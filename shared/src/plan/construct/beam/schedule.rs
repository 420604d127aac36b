//! The partial schedules of the beam search.

use crate::plan::problem::{Spot, WorkerState};

/// A partial schedule: all operations up to some point are placed.
#[derive(Debug, Clone, Default)]
pub(super) struct PartialSchedule {
    pub(super) workers: Vec<WorkerState>,
    /// The pairs that are not finished.
    pub(super) fronts: Vec<PairProgress>,
    /// The minutes of remaining work that must be done by the end of each slot.
    pub(super) need: Vec<i32>,
    /// The weighted minutes late of the finished pairs, and of the others according to their choices.
    pub(super) late: i64,
    /// A hash of the set of operations that are done.
    pub(super) hash: u64,
    /// The index in the history of the last operation.
    pub(super) last: u32,
    /// How many of its children wait for their layers.
    pub(super) pending: u32,
}

/// How far the work on a pair has come.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct PairProgress {
    pub(super) pair: u32,
    pub(super) next: u32,
    pub(super) choice: u32,
    /// Whether the join window before the next operation must be kept.
    pub(super) kept: bool,
    /// The earliest start of the next operation.
    pub(super) after: i64,
    /// The latest start of the next operation that costs no reheating.
    pub(super) limit: i64,
    /// The latest start of the next operation with which the pair keeps its choice.
    pub(super) by: i64,
}

/// A state with one more operation.
#[derive(Debug, Clone, Copy)]
pub(super) struct Child {
    pub(super) cost: i64,
    /// The minutes of open time that lie behind it.
    pub(super) used: i64,
    pub(super) hash: u64,
    pub(super) parent: u32,
    /// The index among the parent's fronts of the pair whose operation is added.
    pub(super) front: u32,
    pub(super) spot: Spot,
}

impl Child {
    /// The sort key: a smaller key is a better child.
    pub(super) fn key(&self) -> (i64, i64, u64, u32) {
        (self.cost, self.used, self.hash, self.parent)
    }
}
