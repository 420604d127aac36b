//! The run that a worker does now: the same work on several pairs, one after another.

use super::bench::Bench;
use crate::log::entry::{SubjectId, UnixMs};
use crate::plan::{Plan, PlannedOperation, SolveLimits, in_one_go};

/// Work that follows within so many minutes belongs to the same run.
const TOGETHER: i64 = 20;
/// The greatest number of pairs in a run.
const MOST: usize = 12;
/// The greatest number of changes tried for a plan.
const CHANGES: u64 = 2_500;
/// The greatest number of changes times pairs: with more pairs each change takes longer, and a phone must answer at once.
const ALL: u64 = 70_000;

/// The same work on several pairs, which a worker does now.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct StandingRun {
    /// The place of the work.
    pub(super) place: String,
    /// The jobs in order, each with the number of operations left on it when the run was chosen.
    pub(crate) jobs: Vec<(SubjectId, usize)>,
    /// When the run was chosen.
    pub(super) chosen: UnixMs,
    /// When the work on its first job began or begins.
    pub(super) since: UnixMs,
    /// The minutes of going to its station before its first job; 0 once that job is done, or if its worker was there.
    pub(super) setting_up: u32,
    /// What it was chosen for, in the place of another run that was not done.
    pub(crate) changed: Option<String>,
    /// Whether somebody has begun it.
    pub(crate) begun: bool,
}

/// What one worker does first: blocks at one place, each pair once, none beginning long after the one before.
pub(super) fn first_run<'p>(bench: &Bench, plan: &'p Plan, worker: usize) -> Vec<&'p PlannedOperation> {
    let place = |block: &PlannedOperation| bench.chains[block.pair].place(block.operation);
    let mut run: Vec<&PlannedOperation> = Vec::new();
    for block in plan.blocks.iter().filter(|block| block.worker == worker) {
        if let (Some(first), Some(last)) = (run.first(), run.last()) {
            let known = run.iter().any(|one| one.pair == block.pair);
            let far = block.start - last.end > TOGETHER || run.len() == MOST;
            if known || far || block.operation != 0 || place(block) != place(first) {
                break;
            }
        }
        run.push(block);
    }
    run
}

/// The limits of the search for so many pairs; `part` divides them for a smaller question.
pub(super) fn limits(pairs: usize, part: u64) -> SolveLimits<'static> {
    let changes = CHANGES.min(ALL / pairs.max(1) as u64);
    SolveLimits {
        iterations: Some(changes / part),
        ..SolveLimits::default()
    }
}

/// Extends the first run to as many of the pairs that `may` join it as possible without making any pair later.
pub(super) fn long_runs(bench: &Bench, plan: Plan, may: &dyn Fn(usize) -> bool) -> Plan {
    let place = |pair: usize| bench.chains[pair].place(0);
    in_one_go(
        &bench.instance,
        plan,
        &|one, other| place(one) == place(other) && may(other),
        MOST,
    )
}

/// When the next work on a job begins.
pub(super) fn start_of(bench: &Bench, plan: &Plan, job: SubjectId) -> i64 {
    let of_job = plan.blocks.iter().find(|block| bench.jobs[block.pair].id == job);
    of_job.map_or(i64::MAX, |block| block.start)
}

/// Who does the next work on a job.
pub(super) fn worker_of(bench: &Bench, plan: &Plan, job: SubjectId) -> Option<usize> {
    let of_job = plan.blocks.iter().find(|block| bench.jobs[block.pair].id == job);
    of_job.map(|block| block.worker)
}
