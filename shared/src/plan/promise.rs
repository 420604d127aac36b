//! The day to promise for one more pair, or for several of one customer.
//!
//! The new pairs are planned without a due time, so that they make no pair late that has one. Then the plan is
//! simulated many times with random durations and random hidden damage, in the order of the plan. The result is, for
//! each day, how often all new pairs are done by its end.

use serde::Serialize;

use super::answer::Plan;
use super::construct::dispatch;
use super::construct::timetable::Timetable;
use super::instance::{Instance, PlanOperation, PlanPair};
use super::lognormal::draw;
use super::problem::PlanProblem;
use super::random_series::RandomSeries;
use super::solve::{SolveLimits, solve};
use crate::trade::formulas::InvalidField;

/// The number of simulated plans.
const DRAWS: usize = 400;
/// A day is full if at least this share of its time is planned.
const FULL: f64 = 0.9;
/// The minutes of a day.
const DAY: i64 = 1440;
/// Promised times are multiples of half an hour: nobody says "from 14:23".
const HALF_HOUR: i64 = 30;

/// The times that can be promised.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Promise {
    /// The tags of the new pairs.
    pub tags: Vec<String>,
    /// The end of the first day by which the pairs are done often enough. None if there is no such day in the windows.
    pub due: Option<i64>,
    /// The minute by which the pairs are done with the requested probability. None if the windows end before.
    pub done_by: Option<i64>,
    /// When the pairs can be collected: the first half hour at or after `done_by` that lies in a window or at its
    /// beginning or end. None as for `done_by`.
    pub from: Option<i64>,
    /// The days with windows.
    pub days: Vec<PromiseDay>,
}

/// A day in the windows.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct PromiseDay {
    /// Its number: minutes from zero, divided by 1,440.
    pub day: i64,
    /// When its last window ends.
    pub end: i64,
    /// Minutes of work that all workers together can do on it.
    pub minutes: i64,
    /// How many of those minutes are planned, the new pairs included.
    pub planned: i64,
    /// Whether next to no time is left.
    pub full: bool,
    /// The probability, from 0 to 1, that the new pairs are done by its end.
    pub kept: f64,
}

/// What can be promised for new pairs beside the work of an instance, so that it is kept with probability `confidence`.
///
/// # Errors
/// The first field that is out of range. `windows` must be given, and at least one new pair.
pub fn promise(
    instance: &Instance,
    pairs: &[PlanPair],
    confidence: f64,
    limits: &SolveLimits<'_>,
) -> Result<Promise, InvalidField> {
    if !(confidence > 0.0 && confidence < 1.0) {
        return Err(InvalidField::new("confidence", "a number between 0 and 1"));
    }
    if instance.windows.is_none() {
        return Err(InvalidField::new(
            "windows",
            "must be there: days are made of them",
        ));
    }
    if pairs.is_empty() {
        return Err(InvalidField::new("pairs", "at least one new pair"));
    }
    let mut all = instance.clone();
    let new = pairs.iter().map(|pair| PlanPair {
        due: None,
        ..pair.clone()
    });
    all.pairs.extend(new);
    let plan = solve(&all, limits)?;
    let known = instance.pairs.len();
    let mut random = RandomSeries::of(limits.seed ^ 0x0DA7_0F12);
    let draws = (0..DRAWS).map(|_| once(&all, known, &plan, &mut random));
    let mut done: Vec<i64> = draws.collect();
    done.sort_unstable();
    let mut days = days(&all, &plan);
    for day in &mut days {
        let kept = done.partition_point(|done| *done <= day.end);
        day.kept = kept as f64 / DRAWS as f64;
    }
    let by = |share: f64| {
        let needed = (share * DRAWS as f64).ceil() as usize;
        let by = done.get(needed.max(1) - 1).copied();
        by.filter(|done| *done < i64::MAX)
    };
    // A share estimated from so many draws is within two standard errors: a share this near to the requested one is
    // accepted.
    let error = 2.0 * (confidence * (1.0 - confidence) / DRAWS as f64).sqrt();
    Ok(Promise {
        tags: pairs.iter().map(|pair| pair.tag.clone()).collect(),
        due: days.iter().find(|day| day.kept >= confidence).map(|day| day.end),
        done_by: by(confidence),
        from: by(confidence - error).and_then(|by| collected_from(&all, by)),
        days,
    })
}

/// The first half hour at which the shop is open and a pair that is done at `done` can be collected.
fn collected_from(all: &Instance, done: i64) -> Option<i64> {
    let half = done + (-done).rem_euclid(HALF_HOUR);
    let windows = all.windows.iter().flatten();
    let then = windows
        .filter(|window| window[1] >= done)
        .map(|[start, end]| half.clamp(*start, *end));
    then.min()
}

/// Simulates the plan once. Returns when the pairs from index `known` on are all done; never if one is not done before
/// the windows end.
fn once(all: &Instance, known: usize, plan: &Plan, random: &mut RandomSeries) -> i64 {
    let mut drawn = all.clone();
    let mut extra = Vec::with_capacity(all.pairs.len());
    let longest = longest_window(all);
    for pair in &mut drawn.pairs {
        for operation in &mut pair.operations {
            let p90 = operation.minutes_p90.unwrap_or(operation.minutes);
            // An operation that is drawn longer than any window is cut to the longest window: in the shop it would be
            // interrupted.
            let most = longest
                .saturating_sub(operation.setup_minutes)
                .max(operation.minutes);
            operation.minutes = draw(operation.minutes, p90, random).min(most);
        }
        let found = pair.hidden.iter().filter(|hidden| random.unit() < hidden.chance);
        let mending: Vec<PlanOperation> = found
            .map(|hidden| PlanOperation {
                minutes: hidden.minutes,
                wait_min: hidden.wait_min,
                ..PlanOperation::default()
            })
            .collect();
        extra.push(mending.len());
        let at = pair.operations.len().min(1);
        pair.operations.splice(at..at, mending);
    }
    let (problem, _) = PlanProblem::new(&drawn);
    let order = order(&problem, plan, &extra);
    let timetable = Timetable::new(&problem, &order, &[]).or_else(|| {
        let orders = dispatch::orders(&problem);
        orders
            .filter_map(|order| Timetable::new(&problem, &order, &[]))
            .min_by_key(|timetable| timetable.value().cost())
    });
    let new = || problem.pairs.iter().filter(|pair| pair.index >= known);
    let Some(timetable) = timetable.filter(|_| new().count() == all.pairs.len() - known) else {
        return i64::MAX;
    };
    let schedule = timetable.schedule();
    let done = new().map(|pair| {
        let end = schedule.spots[pair.last_op as usize].end;
        if end >= problem.calendar.overflow {
            return i64::MAX;
        }
        end + problem.ops[pair.last_op as usize].wait + all.now
    });
    done.max().unwrap_or(i64::MAX)
}

/// Minutes of the longest window that is not over.
fn longest_window(all: &Instance) -> u32 {
    let windows = all.windows.iter().flatten();
    let lengths = windows.map(|[start, end]| end - start.max(&all.now));
    lengths
        .max()
        .map_or(0, |longest| u32::try_from(longest).unwrap_or(0))
}

/// The order of the plan, with damage right after the first operation; pairs that the plan leaves out come last.
fn order(problem: &PlanProblem, plan: &Plan, extra: &[usize]) -> Vec<u32> {
    let mut first_of = vec![None; extra.len()];
    for pair in &problem.pairs {
        first_of[pair.index] = Some(pair.first_op);
    }
    let mut order = Vec::with_capacity(problem.ops.len());
    let mut placed = vec![false; extra.len()];
    for block in &plan.blocks {
        let Some(first) = first_of[block.pair] else {
            continue;
        };
        placed[block.pair] = true;
        let more = extra[block.pair] as u32;
        match block.operation {
            0 => order.extend(first..=first + more),
            later => order.push(first + more + later as u32),
        }
    }
    let left = problem.pairs.iter().filter(|pair| !placed[pair.index]);
    order.extend(left.flat_map(|pair| pair.first_op..=pair.last_op));
    order
}

/// The days that have windows, with the minutes that a plan uses of each; `kept` is 0.
pub fn days(all: &Instance, plan: &Plan) -> Vec<PromiseDay> {
    let mut windows = all.windows.clone().unwrap_or_default();
    windows.retain(|window| window[1] > all.now);
    windows.sort_unstable();
    let mut days: Vec<PromiseDay> = Vec::new();
    for [start, end] in windows {
        let minutes = (end - start.max(all.now)) * i64::from(all.workers);
        let number = start.div_euclid(DAY);
        match days.last_mut().filter(|day| day.day == number) {
            Some(day) => {
                day.minutes += minutes;
                day.end = day.end.max(end);
            }
            None => days.push(PromiseDay {
                day: number,
                end,
                minutes,
                planned: 0,
                full: false,
                kept: 0.0,
            }),
        }
    }
    for block in &plan.blocks {
        let number = block.start.div_euclid(DAY);
        if let Some(day) = days.iter_mut().find(|day| day.day == number) {
            day.planned += block.end - block.start;
        }
    }
    for day in &mut days {
        day.full = day.planned as f64 >= FULL * day.minutes as f64;
    }
    days
}
