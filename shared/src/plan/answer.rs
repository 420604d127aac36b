//! The plan as it is given back.

use serde::Serialize;

/// A plan: who does what when, and what comes of it for each pair.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize)]
pub struct Plan {
    /// The work, by start; at the same minute by worker.
    pub blocks: Vec<PlannedOperation>,
    /// The pairs that are planned, in the order they came in.
    pub pairs: Vec<PairOutcome>,
    /// The pairs that could not be planned, in the order they came in.
    pub left_out: Vec<LeftOut>,
    /// The sum of weight × minutes late over the planned pairs: what the plan makes as small as it can.
    pub weighted_tardiness: u64,
    /// The sum of the times at which the planned pairs are done: the smaller one among plans that are equally late.
    pub sum_completion: i64,
    /// No plan of the same pairs has less weighted tardiness. Where the two are equal the plan is proven. 0 where it is not
    /// proven and no bound was asked for.
    pub lower_bound: u64,
}

/// One operation in the plan.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct PlannedOperation {
    /// The pair's tag.
    pub tag: String,
    /// Which of its operations, from 0.
    pub operation: usize,
    /// The operation's name.
    pub name: String,
    /// Who does it, from 0.
    pub worker: usize,
    /// The minute it starts, with setting up where that is needed.
    pub start: i64,
    /// The minute its attended work ends; its wait begins.
    pub end: i64,
    /// Which pair of the instance, from 0: tags may be there twice.
    #[serde(skip)]
    pub pair: usize,
    /// How many of its minutes are setting up.
    #[serde(skip)]
    pub setup_minutes: u32,
    /// How many of its minutes are there because a join window was missed.
    #[serde(skip)]
    pub rejoin_minutes: u32,
}

/// What comes of a planned pair.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct PairOutcome {
    /// Its tag.
    pub tag: String,
    /// The minute its last wait has passed.
    pub done: i64,
    /// Minutes past its due time.
    pub late: u64,
    /// Which pair of the instance, from 0.
    #[serde(skip)]
    pub pair: usize,
}

/// A pair that is not in the plan.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct LeftOut {
    /// Its tag.
    pub tag: String,
    /// The operation it fails at, from 0.
    pub operation: usize,
    /// Why.
    pub reason: Reason,
    /// Which pair of the instance, from 0.
    #[serde(skip)]
    pub pair: usize,
}

/// Why a pair could not be planned.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub enum Reason {
    /// An operation, with its set-up where it cannot do without, is longer than any window.
    #[serde(rename = "the operation is longer than any window")]
    TooLong,
    /// The operation cannot follow the one before it within the join window, even if nothing else were done.
    #[serde(rename = "no window lets the operation begin within the join window")]
    JoinWindow,
    /// The windows end before it could be done.
    #[serde(rename = "the windows end too soon")]
    Horizon,
}
