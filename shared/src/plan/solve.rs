//! The solver: from the instance to the plan.

use super::answer::Plan;
use super::capacity::CapacityModel;
use super::construct::dispatch;
use super::construct::timetable::Timetable;
use super::instance::Instance;
use super::problem::{Op, PlanProblem};
use super::schedule::Schedule;
use super::search::exact;
use super::search::goals::GoalSearch;
use super::search::local_search::LocalSearch;
use super::search::priority_search::{self, PrioritySearch};
use super::standing::{MARGIN, StandingOrder, StandingPlan, Top};
use super::value::PlanCost;
use crate::trade::formulas::InvalidField;

/// The limits and options of one run of the solver.
#[derive(Clone, Copy, Default)]
pub struct SolveLimits<'a> {
    /// How many changed plans are tried. None: as many as suit an interactive screen, fewer the more work there is.
    pub iterations: Option<u64>,
    /// The seed of the random numbers; another seed gives another search.
    pub seed: u64,
    /// Called now and then; when it returns false, the best plan so far is returned. Only this can make two plans of
    /// one instance differ.
    pub keep_going: Option<&'a dyn Fn() -> bool>,
    /// A known plan, near which the search begins. Pairs that are not in it come behind it, pairs that are to be done
    /// first before it.
    pub near: Option<&'a Plan>,
    /// The plan that stands: the search begins with it, and changes from it count beside lateness. In place of `near`.
    pub standing: Option<&'a StandingPlan>,
    /// Whether a lower bound is calculated, which takes some milliseconds for much work.
    pub bound: bool,
}

/// How many changes are tried by default.
const USUAL: u64 = 5_000;
/// The shares of them, in percent, for the search over the times by which each pair is done and for the search over
/// priorities. The rest goes to the order of operations.
const BY_GOAL: u64 = 80;
const BY_RANK: u64 = 10;
/// The changes in the first round when only the time is limited; later rounds grow.
const FIRST_ROUND: u64 = 20_000;

/// Plans the work of an instance.
///
/// # Errors
/// The first field of the instance that is out of range.
pub fn solve(instance: &Instance, limits: &SolveLimits<'_>) -> Result<Plan, InvalidField> {
    instance.check()?;
    let (mut problem, mut left_out) = PlanProblem::new(instance);
    let standing = limits
        .standing
        .and_then(|standing| standing.note(&mut problem, instance.now));
    let Some((mut schedule, mut proven)) = planned(&problem, limits, standing) else {
        return Ok(Plan {
            left_out,
            ..Plan::default()
        });
    };
    // A pair that is left out takes no time: the rest stays in the same order without it.
    while schedule.leaves_any(&problem) {
        left_out.extend(schedule.left_out(instance, &problem));
        (schedule, problem) = rest(&schedule, &problem);
        proven = false;
    }
    left_out.sort_by_key(|left| left.pair);
    if limits.standing.is_none() {
        schedule.sooner_first(&problem);
    }
    // An optimum under the cost of changes need not be one of lateness.
    let proven = proven && limits.standing.is_none();
    Ok(Plan {
        left_out,
        ..schedule.to_plan(instance, &problem, proven, limits.bound)
    })
}

/// The plan that stands, timed again from the instance's `now`: nothing changes its place in the order. What is not in it
/// comes last.
///
/// # Errors
/// The first field of the instance that is out of range.
pub fn slide(instance: &Instance, standing: &StandingPlan) -> Result<Plan, InvalidField> {
    instance.check()?;
    let (mut problem, mut left_out) = PlanProblem::new(instance);
    let timed = standing.timed(&problem).map(|timetable| timetable.schedule());
    let mut schedule = timed.unwrap_or_default();
    while schedule.leaves_any(&problem) {
        left_out.extend(schedule.left_out(instance, &problem));
        (schedule, problem) = rest(&schedule, &problem);
    }
    left_out.sort_by_key(|left| left.pair);
    Ok(Plan {
        left_out,
        ..schedule.to_plan(instance, &problem, false, false)
    })
}

/// Plans again after time has passed. If nothing has been done since and nothing has come, everything only begins later.
/// What each worker does now stays first unless something new is better by [`MARGIN`].
///
/// `operations` is the number of operations in the plan that stands, and `left_out` tells the pairs that it left out.
///
/// # Errors
/// The first field of the instance that is out of range.
pub fn replan(
    instance: &Instance,
    standing: StandingPlan,
    operations: usize,
    left_out: &dyn Fn(usize) -> bool,
    limits: &SolveLimits<'_>,
) -> Result<Plan, InvalidField> {
    let nothing_came = standing.has_all(left_out);
    if nothing_came && standing.known() == operations {
        return slide(instance, &standing);
    }
    let standing = standing.with_top(if nothing_came {
        Top::Locked
    } else {
        Top::Margin(MARGIN)
    });
    let limits = SolveLimits {
        standing: Some(&standing),
        near: None,
        ..*limits
    };
    solve(instance, &limits)
}

/// The best schedule found, and whether it is proven optimal.
fn planned(
    problem: &PlanProblem,
    limits: &SolveLimits<'_>,
    standing: Option<StandingOrder>,
) -> Option<(Schedule, bool)> {
    let (schedule, value) = searched(problem, limits, standing)?;
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
    let timetable = Timetable::new(&rest, &order, &[]).or_else(|| {
        let orders = dispatch::orders(&rest);
        orders
            .filter_map(|order| Timetable::new(&rest, &order, &[]))
            .min_by_key(|timetable| timetable.value().cost())
    });
    let schedule = timetable.map_or_else(Schedule::default, |timetable| timetable.schedule());
    (schedule, rest)
}

/// The best schedule found.
fn searched(
    problem: &PlanProblem,
    limits: &SolveLimits<'_>,
    standing: Option<StandingOrder>,
) -> Option<(Schedule, PlanCost)> {
    if problem.ops.is_empty() {
        return None;
    }
    let timed = standing
        .as_ref()
        .and_then(|standing| Timetable::new(problem, &standing.order, &standing.holds));
    let known = standing.map(|standing| standing.order);
    let known = known.or_else(|| limits.near.map(|plan| dispatch::as_planned(problem, plan)));
    let is_known = known.is_some();
    let orders: Vec<_> = known.into_iter().chain(dispatch::orders(problem)).collect();
    let first = orders
        .iter()
        .filter_map(|order| Timetable::new(problem, order, &[]));
    let first = timed.into_iter().chain(first);
    let mut search = LocalSearch::new(
        first.min_by_key(|timetable| timetable.value().cost())?,
        limits.seed,
    );
    let going = || limits.keep_going.is_none_or(|ask| ask());
    if is_known && let Some(timetable) = ranked(problem, &orders, None, (0, limits.seed), &going) {
        search.go_on_from(timetable);
    }
    let model = problem.has_chains().then(|| CapacityModel::new(problem));
    for (trials, round) in rounds(problem, limits).zip(0..) {
        let seed = limits.seed.wrapping_add(round);
        if !going() {
            break;
        }
        let mut left = trials;
        if let Some(model) = &model {
            // Not all good plans lie near the best so far: every other round begins elsewhere.
            let near = (is_known || round % 2 == 1).then(|| search.best_schedule());
            let (by_goal, by_rank) = (trials * BY_GOAL / 100, trials * BY_RANK / 100);
            let found = GoalSearch::new(problem, model, seed).run(by_goal, near, &going);
            let found = ranked(problem, &orders, found, (by_rank, seed), &going);
            if let Some(timetable) = found {
                search.go_on_from(timetable);
            }
            left -= by_goal + by_rank;
        }
        search.run(left, &going);
    }
    Some(search.best())
}

/// How many changes are tried in each round. Each round begins anew: with little work, several short rounds find more
/// than a long one.
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
        // The last round is not a short one.
        let trials = if left < next + next / 2 { left } else { next };
        left -= trials;
        next = (2 * next).min(most);
        (trials > 0).then_some(trials)
    })
}

/// The result of the search over priorities from a schedule, or that schedule if it is better.
fn ranked<'p>(
    problem: &'p PlanProblem,
    orders: &[Vec<u32>],
    found: Option<Timetable<'p>>,
    (trials, seed): (u64, u64),
    going: &dyn Fn() -> bool,
) -> Option<Timetable<'p>> {
    // A schedule in which everything is late as possible is no good start if only early completion counts.
    let temperatures = match &found {
        Some(timetable) if !timetable.value().is_in_time() => priority_search::WARM_START_TEMPERATURE,
        _ => priority_search::INITIAL_TEMPERATURE,
    };
    let mut begin = orders.to_vec();
    begin.extend(found.iter().map(|timetable| timetable.order().to_vec()));
    let start = |holds: &[bool]| {
        let search = PrioritySearch::new(problem, &begin, holds, seed);
        (search.value(), search)
    };
    let (mut search, holds) = match &found {
        Some(timetable) => (start(&timetable.holds).1, timetable.holds.clone()),
        None => cheaper(problem, start),
    };
    search.run(trials, temperatures, going);
    let ranked = Timetable::new(problem, &search.serial.order(), &holds);
    let both = found.into_iter().chain(ranked);
    both.min_by_key(|timetable| timetable.value().cost())
}

/// The cheaper beginning: with soft join windows kept or not kept.
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
