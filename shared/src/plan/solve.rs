//! From the instance to the plan.

use super::answer::{Block, Done, LeftOut, Plan, Reason};
use super::dispatch;
use super::instance::Instance;
use super::orders::Orders;
use super::problem::{NOTHING_YET, Op, PairData, Problem};
use super::ranks::Ranks;
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

/// How many changes are tried unless something else is asked for.
const USUAL: u64 = 6_000;
/// Where only the time is limited: so many in the first round, then twice as many in each.
const FIRST_ROUND: u64 = 20_000;
const MOST_ROUNDS: u32 = 40;

/// Plans the work.
///
/// # Errors
/// The first field of the instance that is out of range.
pub fn solve(instance: &Instance, limits: &Limits<'_>) -> Result<Plan, Refused> {
    instance.check()?;
    let (problem, left_out) = Problem::new(instance);
    let Some(timing) = schedule(&problem, limits) else {
        return Ok(Plan {
            left_out,
            ..Plan::default()
        });
    };
    Ok(told(instance, &timing, left_out))
}

/// The best schedule found.
fn schedule<'p>(problem: &'p Problem, limits: &Limits<'_>) -> Option<Timing<'p>> {
    let orders: Vec<_> = dispatch::orders(problem).collect();
    let first = orders.iter().filter_map(|order| timed(problem, order, &[]));
    let mut search = Orders::new(first.min_by_key(|timing| timing.value().cost())?, limits.seed);
    let going = || limits.keep_going.is_none_or(|ask| ask());
    let mut rounds = match (limits.iterations, limits.keep_going) {
        (Some(all), _) => vec![all],
        (None, None) => vec![USUAL],
        (None, Some(_)) => (0..MOST_ROUNDS).map(|round| FIRST_ROUND << round).collect(),
    };
    rounds.retain(|trials| *trials > 0);
    for (round, trials) in rounds.into_iter().enumerate() {
        if !going() {
            break;
        }
        let seed = limits.seed.wrapping_add(round as u64);
        let ranked = ranked(problem, &orders, (trials / 2, seed), &going);
        if let Some(timing) = ranked {
            search.offer(timing);
        }
        search.run(trials - trials / 2, &going);
    }
    let (order, holds) = search.best();
    timed(problem, order, holds)
}

/// The best that a search over ranks finds, as a schedule.
fn ranked<'p>(
    problem: &'p Problem,
    orders: &[Vec<u32>],
    (trials, seed): (u64, u64),
    going: &dyn Fn() -> bool,
) -> Option<Timing<'p>> {
    // Join windows that need not be kept: none, or all, whichever begins better.
    let free = vec![false; problem.ops.len()];
    let held: Vec<bool> = problem.ops.iter().map(Op::can_be_held).collect();
    let mut ranks = Ranks::new(problem, orders, &free, seed);
    let mut holds = free;
    if held.contains(&true) {
        let other = Ranks::new(problem, orders, &held, seed);
        if other.value().cost() < ranks.value().cost() {
            (ranks, holds) = (other, held);
        }
    }
    ranks.run(trials, going);
    timed(problem, &ranks.packing.order(), &holds)
}

fn timed<'p>(problem: &'p Problem, order: &[u32], holds: &[bool]) -> Option<Timing<'p>> {
    let mut all = holds.to_vec();
    all.resize(problem.ops.len(), false);
    Timing::new(problem, order.to_vec(), all)
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
