//! From the instance to the plan.

use super::answer::Plan;
use super::choosing::Choosing;
use super::dispatch;
use super::exact;
use super::goals::Goals;
use super::instance::Instance;
use super::loads::Loads;
use super::orders::Orders;
use super::problem::{Op, Problem};
use super::ranks::{self, Ranks};
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
    /// Whether a lower bound is asked for, which takes some milliseconds where there is much work.
    pub bound: bool,
}

/// How many changes are tried unless something else is asked for.
const USUAL: u64 = 5_000;
/// In percent of them: changes of by when each pair is done, and of ranks; the others are of the order of operations.
const BY_GOAL: u64 = 80;
const BY_RANK: u64 = 10;
/// The most changes that are tried by the loads alone to begin with, and how many for each other one: they take twenty
/// times as little.
const BY_LOAD: u64 = 20_000;
const BY_LOAD_EACH: u64 = 8;
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
        ..schedule.told(instance, &problem, proven, limits.bound)
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
            trials * (BY_GOAL + BY_RANK) / 100
        } else {
            0
        };
        // Not all good plans lie near one that begins with goals: every other round begins without.
        let found = match (by_rank, round % 2) {
            (0, _) => None,
            (_, 0) => by_goals(problem, &orders, (by_rank, seed), &going),
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

/// The best that the searches over goals and, from there, over ranks find, as a schedule.
fn by_goals<'p>(
    problem: &'p Problem,
    orders: &[Vec<u32>],
    (trials, seed): (u64, u64),
    going: &dyn Fn() -> bool,
) -> Option<Timing<'p>> {
    let loads = Loads::new(problem);
    let by_goal = trials * BY_GOAL / (BY_GOAL + BY_RANK);
    let mut choosing = Choosing::new(problem, &loads, seed);
    if choosing.has_any() {
        choosing.run(BY_LOAD.min(BY_LOAD_EACH * trials));
    }
    let (mut goals, holds) = cheaper(problem, |holds| {
        let goals = Goals::new(problem, &loads, choosing.clone(), holds, seed);
        (goals.value(), goals)
    });
    let left = goals.run(by_goal, going);
    // What is put off as long as may be is no good beginning where all that counts is to be done soon.
    let is_in_time = (goals.value().out, goals.value().late) == (0, 0);
    let orders = if is_in_time { orders } else { &[] };
    let mut ranks = Ranks::new(problem, &[goals.list().to_vec()], orders, &holds, seed);
    ranks.run(trials - by_goal + left, ranks::WARMTH, going);
    timed(problem, &ranks.packing.order(), &holds)
}

/// What begins better: join windows that need not be kept are, or are not.
fn cheaper<T>(problem: &Problem, begin: impl Fn(&[bool]) -> (Value, T)) -> (T, Vec<bool>) {
    let free = vec![false; problem.ops.len()];
    let held: Vec<bool> = problem.ops.iter().map(Op::can_be_held).collect();
    let (value, one) = begin(&free);
    if held.contains(&true) {
        let (other_value, other) = begin(&held);
        if other_value.cost() < value.cost() {
            return (other, held);
        }
    }
    (one, free)
}

/// The best that a search over ranks finds from these orders, as a schedule.
fn ranked<'p>(
    problem: &'p Problem,
    orders: &[Vec<u32>],
    (trials, seed): (u64, u64),
    going: &dyn Fn() -> bool,
) -> Option<Timing<'p>> {
    let (mut ranks, holds) = cheaper(problem, |holds| {
        let ranks = Ranks::new(problem, &[], orders, holds, seed);
        (ranks.value(), ranks)
    });
    ranks.run(trials, ranks::HEAT, going);
    timed(problem, &ranks.packing.order(), &holds)
}

/// An order as a schedule, if it can keep its join windows.
pub(super) fn timed<'p>(problem: &'p Problem, order: &[u32], holds: &[bool]) -> Option<Timing<'p>> {
    let mut all = holds.to_vec();
    all.resize(problem.ops.len(), false);
    Timing::new(problem, order.to_vec(), all)
}
