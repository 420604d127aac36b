//! From the instance to the plan.

use super::answer::{Block, Done, LeftOut, Plan, Reason};
use super::dispatch;
use super::instance::Instance;
use super::problem::{NOTHING_YET, PairData, Problem};
use super::timing::Timing;
use crate::trade::reckon::Refused;

/// How long a plan may be thought about.
#[derive(Clone, Copy, Default)]
pub struct Limits<'a> {
    /// How many changed plans are tried. None: as many as suit a screen, fewer the more work there is.
    pub iterations: Option<u64>,
    /// Another number looks elsewhere.
    pub seed: u64,
    /// Asked now and then; when it says no, the best plan so far is given back. That is the only thing that can make
    /// two plans of one instance differ.
    pub keep_going: Option<&'a dyn Fn() -> bool>,
}

/// Plans the work.
///
/// # Errors
/// The first field of the instance that is out of range.
pub fn solve(instance: &Instance, limits: &Limits<'_>) -> Result<Plan, Refused> {
    instance.check()?;
    let (problem, left_out) = Problem::new(instance);
    let _ = limits;
    let best = dispatch::orders(&problem)
        .filter_map(|order| Timing::new(&problem, order, vec![false; problem.ops.len()]))
        .min_by_key(Timing::value);
    Ok(best.map_or_else(Plan::default, |best| told(instance, &best, left_out)))
}

/// The schedule in the words of the instance.
fn told(instance: &Instance, timing: &Timing<'_>, mut left_out: Vec<LeftOut>) -> Plan {
    let problem = timing.problem;
    let mut plan = Plan {
        lower_bound: lower_bound(timing),
        ..Plan::default()
    };
    for data in &problem.pairs {
        let pair = &instance.pairs[data.index];
        let end = timing.spot(data.last_op).end;
        if end >= problem.calendar.overflow {
            left_out.push(too_much(instance, timing, data));
            continue;
        }
        let done = end + problem.ops[data.last_op as usize].wait;
        let late = (done - data.due).max(0) as u64;
        plan.weighted_tardiness += data.weight * late;
        plan.sum_completion += done + instance.now;
        plan.pairs.push(Done {
            tag: pair.tag.clone(),
            done: done + instance.now,
            late,
            pair: data.index,
        });
    }
    plan.blocks = blocks(instance, timing);
    left_out.sort_by_key(|left| left.pair);
    plan.left_out = left_out;
    plan
}

/// The operations of the pairs that are planned, by start.
fn blocks(instance: &Instance, timing: &Timing<'_>) -> Vec<Block> {
    let problem = timing.problem;
    let mut setups = vec![NOTHING_YET; problem.workers];
    let mut blocks = Vec::with_capacity(problem.ops.len());
    for id in timing.order() {
        let (op, spot) = (&problem.ops[*id as usize], timing.spot(*id));
        let data = &problem.pairs[op.pair as usize];
        let previous = std::mem::replace(&mut setups[spot.worker as usize], op.setup);
        if timing.spot(data.last_op).end >= problem.calendar.overflow {
            continue;
        }
        let pair = &instance.pairs[data.index];
        let operation = (id - data.first_op) as usize;
        let setting_up = op.setting_up(previous);
        blocks.push(Block {
            tag: pair.tag.clone(),
            operation,
            name: pair.operations[operation].name.clone(),
            worker: spot.worker as usize,
            start: spot.start + instance.now,
            end: spot.end + instance.now,
            pair: data.index,
            setup_minutes: setting_up as u32,
            rejoin_minutes: (spot.end - spot.start - op.minutes - setting_up) as u32,
        });
    }
    blocks.sort_by_key(|block| (block.start, block.worker));
    blocks
}

/// What the planned pairs are late at least: each as if it were alone.
fn lower_bound(timing: &Timing<'_>) -> u64 {
    let problem = timing.problem;
    let planned = problem.pairs.iter().enumerate();
    let planned = planned.filter(|(_, data)| timing.spot(data.last_op).end < problem.calendar.overflow);
    planned
        .map(|(pair, data)| {
            let done = problem.alone(pair).unwrap_or(0);
            data.weight * (done - data.due).max(0) as u64
        })
        .sum()
}

/// Why a pair that fits alone is not in the plan.
fn too_much(instance: &Instance, timing: &Timing<'_>, data: &PairData) -> LeftOut {
    let problem = timing.problem;
    let longest = problem.calendar.longest();
    let chain = &problem.ops[data.first_op as usize..=data.last_op as usize];
    let too_long = chain
        .iter()
        .position(|op| op.minutes + op.setup_minutes > longest);
    let mut ids = data.first_op..=data.last_op;
    let beyond = ids.position(|id| timing.spot(id).start >= problem.calendar.overflow);
    LeftOut {
        tag: instance.pairs[data.index].tag.clone(),
        operation: too_long.or(beyond).unwrap_or(0),
        reason: if too_long.is_some() {
            Reason::TooLong
        } else {
            Reason::Horizon
        },
        pair: data.index,
    }
}
