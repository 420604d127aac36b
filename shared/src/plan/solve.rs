//! From the instance to the plan.

use super::answer::Plan;
use super::dispatch;
use super::exact;
use super::instance::Instance;
use super::orders::Orders;
use super::pairs::Pairs;
use super::problem::{Op, Problem};
use super::ranks::Ranks;
use super::schedule::Schedule;
use super::timing::Timing;
use super::value::Value;
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
const USUAL: u64 = 5_000;
/// In percent of them: changes of the order of pairs, and of ranks; the others are of the order of operations.
const BY_PAIR: u64 = 60;
const BY_RANK: u64 = 30;
/// So many in the first round where only the time is limited; the rounds after it grow.
const FIRST_ROUND: u64 = 20_000;

/// Plans the work.
///
/// # Errors
/// The first field of the instance that is out of range.
pub fn solve(instance: &Instance, limits: &Limits<'_>) -> Result<Plan, Refused> {
    instance.check()?;
    let (mut problem, mut left_out) = Problem::new(instance);
    let Some((mut schedule, mut proven)) = planned(&problem, limits) else {
        return Ok(Plan {
            left_out,
            ..Plan::default()
        });
    };
    // What is left out takes no time: the rest in the same order without it.
    while schedule.leaves_any(&problem) {
        left_out.extend(schedule.left_out(instance, &problem));
        (schedule, problem) = rest(&schedule, &problem);
        proven = false;
    }
    left_out.sort_by_key(|left| left.pair);
    schedule.sooner_first(&problem);
    Ok(Plan {
        left_out,
        ..schedule.told(instance, &problem, proven)
    })
}

/// The best schedule found, and whether none can be better.
fn planned(problem: &Problem, limits: &Limits<'_>) -> Option<(Schedule, bool)> {
    let (schedule, value) = searched(problem, limits)?;
    let (better, proven) = exact::improve(problem, &value);
    Some((better.unwrap_or(schedule), proven))
}

/// The schedule without the pairs it leaves out, and the problem without them.
fn rest(schedule: &Schedule, problem: &Problem) -> (Schedule, Problem) {
    let left: Vec<bool> = problem
        .pairs
        .iter()
        .map(|pair| !schedule.is_planned(problem, pair))
        .collect();
    let (rest, numbers) = problem.without(&left);
    let order = schedule.order.iter().filter_map(|id| numbers[*id as usize]);
    let order: Vec<u32> = order.collect();
    let timing = timed(&rest, &order, &[]).or_else(|| {
        let orders = dispatch::orders(&rest);
        orders
            .filter_map(|order| timed(&rest, &order, &[]))
            .min_by_key(|timing| timing.value().cost())
    });
    let schedule = timing.map_or_else(Schedule::default, |timing| timing.schedule());
    (schedule, rest)
}

/// The best schedule found.
fn searched(problem: &Problem, limits: &Limits<'_>) -> Option<(Schedule, Value)> {
    if problem.ops.is_empty() {
        return None;
    }
    let orders: Vec<_> = dispatch::orders(problem).collect();
    let first = orders.iter().filter_map(|order| timed(problem, order, &[]));
    let mut search = Orders::new(first.min_by_key(|timing| timing.value().cost())?, limits.seed);
    let going = || limits.keep_going.is_none_or(|ask| ask());
    for (trials, round) in rounds(problem, limits).zip(0..) {
        let seed = limits.seed.wrapping_add(round);
        if !going() {
            break;
        }
        let by_rank = if problem.has_chains() {
            trials * (BY_PAIR + BY_RANK) / 100
        } else {
            0
        };
        // Not all good plans lie near one that begins with whole pairs: every other round begins without.
        let found = match (by_rank, round % 2) {
            (0, _) => None,
            (_, 0) => by_pairs(problem, &orders, (by_rank, seed), &going),
            _ => ranked(problem, &orders, (by_rank, seed), &going),
        };
        if let Some(timing) = found {
            search.go_on_from(timing);
        }
        search.run(trials - by_rank, &going);
    }
    Some(search.best())
}

/// How many changes are tried in each round. A round begins anew: where there is little work, several short ones find
/// more than a long one.
fn rounds(problem: &Problem, limits: &Limits<'_>) -> impl Iterator<Item = u64> + use<> {
    let count = problem.ops.len() as u64;
    let most = (5 * count * count).max(FIRST_ROUND);
    let mut left = match (limits.iterations, limits.keep_going) {
        (Some(all), _) => all,
        (None, None) => USUAL,
        (None, Some(_)) => u64::MAX,
    };
    let mut next = if left == u64::MAX { FIRST_ROUND } else { most };
    std::iter::from_fn(move || {
        // No short one at the end.
        let trials = if left < next + next / 2 { left } else { next };
        left -= trials;
        next = (2 * next).min(most);
        (trials > 0).then_some(trials)
    })
}

/// The best that the searches over whole pairs and, from there, over ranks find, as a schedule.
fn by_pairs<'p>(
    problem: &'p Problem,
    orders: &[Vec<u32>],
    (trials, seed): (u64, u64),
    going: &dyn Fn() -> bool,
) -> Option<Timing<'p>> {
    let mut pairs = Pairs::new(problem, orders, seed);
    let by_pair = trials * BY_PAIR / (BY_PAIR + BY_RANK);
    let left = pairs.run(by_pair, going);
    let mut starts = vec![pairs.order()];
    let whole = timed(problem, &starts[0], &[]);
    if pairs.is_in_time() {
        // What is put as late as may be is no good beginning where all that counts is to be done soon.
        starts.extend_from_slice(orders);
    }
    let ranked = ranked(problem, &starts, (trials - by_pair + left, seed), going);
    let both = whole.into_iter().chain(ranked);
    both.min_by_key(|timing| timing.value().cost())
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

/// An order as a schedule, if it can keep its join windows.
pub(super) fn timed<'p>(problem: &'p Problem, order: &[u32], holds: &[bool]) -> Option<Timing<'p>> {
    let mut all = holds.to_vec();
    all.resize(problem.ops.len(), false);
    Timing::new(problem, order.to_vec(), all)
}
