//! The day to promise for one more pair, or for several of one customer.
//!
//! They are put into the plan without a due time, so that they make nobody late who has one. Then durations are drawn
//! again and again, of all operations that say how they spread, and hidden damage where it may be; the work is done in
//! the order of the plan; and of each day it is counted how often all of them are done by its end.

use serde::Serialize;

use super::answer::Plan;
use super::chance::RandomSeries;
use super::dispatch;
use super::instance::{Instance, PlanOperation, PlanPair};
use super::lognormal::draw;
use super::problem::PlanProblem;
use super::solve::{SolveLimits, solve};
use super::timetable::Timing;
use crate::trade::formulas::InvalidField;

/// So many draws.
const DRAWS: usize = 400;
/// A day with so much of its time planned is full.
const FULL: f64 = 0.9;
/// Minutes of a day.
const DAY: i64 = 1440;
/// A promise is for a half hour: nobody says "from 14:23".
const HALF_HOUR: i64 = 30;

/// What can be promised.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Promise {
    /// The tags of the new pairs.
    pub tags: Vec<String>,
    /// The end of the first day that is kept often enough. None if no day in the windows is.
    pub due: Option<i64>,
    /// The minute by which they are done as often as asked for. None if they are not before the windows end.
    pub done_by: Option<i64>,
    /// The first half hour, while there is a window or at its beginning or end, that is not before that: from when on they
    /// can be collected. None as for `done_by`.
    pub from: Option<i64>,
    /// The days with windows.
    pub days: Vec<PromiseDay>,
}

/// A day.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct PromiseDay {
    /// Its number: minutes from zero, divided by 1,440.
    pub day: i64,
    /// When its last window ends.
    pub end: i64,
    /// Minutes of work that all workers can do.
    pub minutes: i64,
    /// Minutes of it that are planned, those of the new pairs among them.
    pub planned: i64,
    /// Whether next to nothing is left.
    pub full: bool,
    /// How often the new pairs are done by its end: from 0 to 1.
    pub kept: f64,
}

/// What can be promised for new pairs beside the work of an instance, so that it is kept as often as `confidence` says.
///
/// # Errors
/// The first field that is out of range; `windows` must be there, and at least one new pair.
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
    let mut chance = RandomSeries::of(limits.seed ^ 0x0DA7_0F12);
    let draws = (0..DRAWS).map(|_| once(&all, known, &plan, &mut chance));
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
    // A share of so many draws is no surer than two standard errors: what is that near to it is sure enough.
    let error = 2.0 * (confidence * (1.0 - confidence) / DRAWS as f64).sqrt();
    Ok(Promise {
        tags: pairs.iter().map(|pair| pair.tag.clone()).collect(),
        due: days.iter().find(|day| day.kept >= confidence).map(|day| day.end),
        done_by: by(confidence),
        from: by(confidence - error).and_then(|by| collected_from(&all, by)),
        days,
    })
}

/// The first half hour at which somebody is there and what is done at `done` can be collected.
fn collected_from(all: &Instance, done: i64) -> Option<i64> {
    let half = done + (-done).rem_euclid(HALF_HOUR);
    let windows = all.windows.iter().flatten();
    let then = windows
        .filter(|window| window[1] >= done)
        .map(|[start, end]| half.clamp(*start, *end));
    then.min()
}

/// When the pairs from `known` on are all done if durations come out one way; never if one is not before the windows end.
fn once(all: &Instance, known: usize, plan: &Plan, chance: &mut RandomSeries) -> i64 {
    let mut drawn = all.clone();
    let mut extra = Vec::with_capacity(all.pairs.len());
    let longest = longest_window(all);
    for pair in &mut drawn.pairs {
        for operation in &mut pair.operations {
            let p90 = operation.minutes_p90.unwrap_or(operation.minutes);
            // What takes longer than any window is interrupted when it comes to that: it does not take for ever.
            let most = longest
                .saturating_sub(operation.setup_minutes)
                .max(operation.minutes);
            operation.minutes = draw(operation.minutes, p90, chance).min(most);
        }
        let found = pair.hidden.iter().filter(|hidden| chance.unit() < hidden.chance);
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
    let timing = Timing::new(&problem, &order, &[]).or_else(|| {
        let orders = dispatch::orders(&problem);
        orders
            .filter_map(|order| Timing::new(&problem, &order, &[]))
            .min_by_key(|timing| timing.value().cost())
    });
    let new = || problem.pairs.iter().filter(|pair| pair.index >= known);
    let Some(timing) = timing.filter(|_| new().count() == all.pairs.len() - known) else {
        return i64::MAX;
    };
    let schedule = timing.schedule();
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

/// The order of the plan, damage right after the first operation; what the plan leaves out comes last.
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

/// The days that have windows, with what a plan puts on them; `kept` is 0.
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
