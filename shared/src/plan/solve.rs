//! From the instance to the plan.

use super::answer::Plan;
use super::capacity::Loads;
use super::dispatch;
use super::exact;
use super::goals::Goals;
use super::instance::Instance;
use super::local_search::Orders;
use super::priority_search::{self, Ranks};
use super::problem::{Op, PlanProblem};
use super::schedule::Schedule;
use super::timetable::Timing;
use super::value::PlanCost;
use crate::trade::formulas::InvalidField;

/// How long a plan may be thought about.
#[derive(Clone, Copy, Default)]
pub struct SolveLimits<'a> {
    /// How many changed plans are tried. None: as many as suit a screen, fewer the more work there is.
    pub iterations: Option<u64>,
    /// Another number looks elsewhere.
    pub seed: u64,
    /// Asked now and then; when it says no, the best plan so far is given back. That is the only thing that can make
    /// two plans of one instance differ.
    pub keep_going: Option<&'a dyn Fn() -> bool>,
    /// A plan that is known already: it is looked for near this one first. What is not in it is put behind, what is to be
    /// done first before.
    pub near: Option<&'a Plan>,
    /// Whether a lower bound is asked for, which takes some milliseconds where there is much work.
    pub bound: bool,
}

/// How many changes are tried unless something else is asked for.
const USUAL: u64 = 5_000;
/// In percent of them: what the search over by when each pair is done may take, and changes of ranks; the others are of the
/// order of operations.
const BY_GOAL: u64 = 80;
const BY_RANK: u64 = 10;
/// So many in the first round where only the time is limited; the rounds after it grow.
const FIRST_ROUND: u64 = 20_000;

/// Plans the work.
///
/// # Errors
/// The first field of the instance that is out of range.
pub fn solve(instance: &Instance, limits: &SolveLimits<'_>) -> Result<Plan, InvalidField> {
    instance.check()?;
    let (mut problem, mut left_out) = PlanProblem::new(instance);
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
fn planned(problem: &PlanProblem, limits: &SolveLimits<'_>) -> Option<(Schedule, bool)> {
    let (schedule, value) = searched(problem, limits)?;
    let (better, proven) = exact::improve(problem, &value);
    Some((better.unwrap_or(schedule), proven))
}

/// The schedule without the pairs it leaves out, and the problem without them.
fn rest(schedule: &Schedule, problem: &PlanProblem) -> (Schedule, PlanProblem) {
    let left: Vec<bool> = problem
        .pairs
        .iter()
        .map(|pair| !schedule.is_planned(problem, pair))
        .collect();
    let (rest, numbers) = problem.without(&left);
    let order = schedule.order.iter().filter_map(|id| numbers[*id as usize]);
    let order: Vec<u32> = order.collect();
    let timing = Timing::new(&rest, &order, &[]).or_else(|| {
        let orders = dispatch::orders(&rest);
        orders
            .filter_map(|order| Timing::new(&rest, &order, &[]))
            .min_by_key(|timing| timing.value().cost())
    });
    let schedule = timing.map_or_else(Schedule::default, |timing| timing.schedule());
    (schedule, rest)
}

/// The best schedule found.
fn searched(problem: &PlanProblem, limits: &SolveLimits<'_>) -> Option<(Schedule, PlanCost)> {
    if problem.ops.is_empty() {
        return None;
    }
    let known = limits.near.map(|plan| dispatch::as_planned(problem, plan));
    let is_known = known.is_some();
    let orders: Vec<_> = known.into_iter().chain(dispatch::orders(problem)).collect();
    let first = orders.iter().filter_map(|order| Timing::new(problem, order, &[]));
    let mut search = Orders::new(first.min_by_key(|timing| timing.value().cost())?, limits.seed);
    let going = || limits.keep_going.is_none_or(|ask| ask());
    if is_known && let Some(timing) = ranked(problem, &orders, None, (0, limits.seed), &going) {
        search.go_on_from(timing);
    }
    let loads = problem.has_chains().then(|| Loads::new(problem));
    for (trials, round) in rounds(problem, limits).zip(0..) {
        let seed = limits.seed.wrapping_add(round);
        if !going() {
            break;
        }
        let mut left = trials;
        if let Some(loads) = &loads {
            // Not all good plans lie near the best so far.
            let near = (is_known || round % 2 == 1).then(|| search.best_schedule());
            let (by_goal, by_rank) = (trials * BY_GOAL / 100, trials * BY_RANK / 100);
            let found = Goals::new(problem, loads, seed).run(by_goal, near, &going);
            let found = ranked(problem, &orders, found, (by_rank, seed), &going);
            if let Some(timing) = found {
                search.go_on_from(timing);
            }
            left -= by_goal + by_rank;
        }
        search.run(left, &going);
    }
    Some(search.best())
}

/// How many changes are tried in each round. A round begins anew: where there is little work, several short ones find
/// more than a long one.
fn rounds(problem: &PlanProblem, limits: &SolveLimits<'_>) -> impl Iterator<Item = u64> + use<> {
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

/// What a search over ranks finds from a schedule, or that one if it is better.
fn ranked<'p>(
    problem: &'p PlanProblem,
    orders: &[Vec<u32>],
    found: Option<Timing<'p>>,
    (trials, seed): (u64, u64),
    going: &dyn Fn() -> bool,
) -> Option<Timing<'p>> {
    // What is put off as long as may be is no good beginning where all that counts is to be done soon.
    let heat = match &found {
        Some(timing) if !timing.value().is_in_time() => priority_search::WARMTH,
        _ => priority_search::INITIAL_TEMPERATURE,
    };
    let mut begin = orders.to_vec();
    begin.extend(found.iter().map(|timing| timing.order().to_vec()));
    let ranks = |holds: &[bool]| {
        let ranks = Ranks::new(problem, &begin, holds, seed);
        (ranks.value(), ranks)
    };
    let (mut ranks, holds) = match &found {
        Some(timing) => (ranks(&timing.holds).1, timing.holds.clone()),
        None => cheaper(problem, ranks),
    };
    ranks.run(trials, heat, going);
    let ranked = Timing::new(problem, &ranks.packing.order(), &holds);
    let both = found.into_iter().chain(ranked);
    both.min_by_key(|timing| timing.value().cost())
}

/// What begins better: join windows that need not be kept are, or are not.
fn cheaper<T>(problem: &PlanProblem, begin: impl Fn(&[bool]) -> (PlanCost, T)) -> (T, Vec<bool>) {
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
