//! The plan that the solver returns.

use serde::Serialize;

/// A plan: which worker does which operation when, and when each pair is done.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize)]
pub struct Plan {
    /// The operations, in order of start; operations with the same start in order of worker.
    pub blocks: Vec<PlannedOperation>,
    /// The planned pairs, in the order of the instance.
    pub pairs: Vec<PairOutcome>,
    /// The pairs that could not be planned, in the order of the instance.
    pub left_out: Vec<LeftOut>,
    /// The sum of weight × minutes late over the planned pairs, which the solver minimises.
    pub weighted_tardiness: u64,
    /// The sum of the minutes at which the planned pairs are done; decides between plans with equal weighted tardiness.
    pub sum_completion: i64,
    /// A lower bound: no plan of the same pairs has less weighted tardiness. If it equals `weighted_tardiness`, the
    /// plan is proven optimal. 0 if the plan is not proven and no bound was asked for.
    pub lower_bound: u64,
}

/// One operation in the plan.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct PlannedOperation {
    /// The pair's tag.
    pub tag: String,
    /// The index of the operation in its pair's chain, from 0.
    pub operation: usize,
    /// The operation's name.
    pub name: String,
    /// The worker who does it, from 0.
    pub worker: usize,
    /// The minute it starts, set-up included.
    pub start: i64,
    /// The minute its attended work ends and its wait begins.
    pub end: i64,
    /// The index of the pair in the instance, from 0. Tags need not be unique.
    #[serde(skip)]
    pub pair: usize,
    /// How many of its minutes are set-up.
    #[serde(skip)]
    pub setup_minutes: u32,
    /// How many of its minutes are extra work because a join window was missed.
    #[serde(skip)]
    pub rejoin_minutes: u32,
}

/// When a planned pair is done.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct PairOutcome {
    /// Its tag.
    pub tag: String,
    /// The minute at which its last wait ends.
    pub done: i64,
    /// Minutes past its due time; 0 if it is in time.
    pub late: u64,
    /// The index of the pair in the instance, from 0.
    #[serde(skip)]
    pub pair: usize,
}

/// A pair that is not in the plan.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct LeftOut {
    /// Its tag.
    pub tag: String,
    /// The index of the operation that cannot be placed, from 0.
    pub operation: usize,
    /// Why it cannot be placed.
    pub reason: Reason,
    /// The index of the pair in the instance, from 0.
    #[serde(skip)]
    pub pair: usize,
}

/// Why a pair could not be planned.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub enum Reason {
    /// An operation, with set-up where it is needed, is longer than any window.
    #[serde(rename = "the operation is longer than any window")]
    TooLong,
    /// The operation cannot follow the one before it within the join window, even if no other work is done.
    #[serde(rename = "no window lets the operation begin within the join window")]
    JoinWindow,
    /// The windows end before the operation could be done.
    #[serde(rename = "the windows end too soon")]
    Horizon,
}
