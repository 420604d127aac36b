//! The day to promise for one more pair, or for several of one customer.
//!
//! The new pairs are planned without a due time, so that they make no pair late that has one. Then the plan is
//! simulated many times with random durations and random hidden damage, in the order of the plan. The result is, for
//! each day, how often all new pairs are done by its end.
//!
//! Earlier days are asked about one by one: the work is planned once more as if that day were promised, and simulated.
//! So each day says how often it is kept if it is promised: without making another pair later, and at the expense of
//! others.
//!
//! - `draws`: the simulations. `asked`: the plans with and without a promised day.

mod asked;
mod draws;

use serde::Serialize;

use super::answer::Plan;
use super::instance::{Instance, PlanPair};
use super::solve::SolveLimits;
use crate::trade::formulas::InvalidField;
use asked::{Asked, AskedDay, Outlook};

/// A day is full if at least this share of its time is planned.
const FULL: f64 = 0.9;
/// The minutes of a day.
const DAY: i64 = 1440;
/// Promised times are multiples of half an hour: nobody says "from 14:23".
const HALF_HOUR: i64 = 30;
/// The greatest number of days that are asked about one by one.
const MOST_ASKED: usize = 5;
/// Days after one that is kept with at least this probability are not asked about: they are no harder to keep.
const ENOUGH: f64 = 0.95;

/// The times that can be promised.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Promise {
    /// The tags of the new pairs.
    pub tags: Vec<String>,
    /// The end of the first day by which the pairs are done often enough without making a pair late that has a due
    /// time. None if there is no such day in the windows.
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
#[derive(Debug, Clone, PartialEq, Serialize)]
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
    /// The probability, from 0 to 1, that the new pairs are done by its end if it is promised, and no other pair is
    /// later for it.
    pub kept: f64,
    /// The same if other pairs may be later for it; not less than `kept`.
    pub pressed: f64,
    /// The tags of the pairs that are then late, and would not be otherwise; empty if they are not known.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub late_instead: Vec<String>,
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
    refuse(instance, pairs, confidence)?;
    let mut all = instance.clone();
    let new = pairs.iter().map(|pair| PlanPair {
        due: None,
        ..pair.clone()
    });
    all.pairs.extend(new);
    let asked = Asked::of(&all, instance.pairs.len(), limits);
    let mut outlook = asked.without_day()?;
    let sooner = sooner_days(&all, &asked, &mut outlook, confidence)?;
    let mut days = days(&all, &outlook.plan);
    for day in &mut days {
        day.kept = outlook.kept(day.end);
    }
    let due = days.iter().find(|day| day.kept >= confidence).map(|day| day.end);
    join(&mut days, sooner);
    // A share estimated from so many draws is within two standard errors: a share this near to the requested one is
    // accepted.
    let error = 2.0 * (confidence * (1.0 - confidence) / outlook.done.len() as f64).sqrt();
    let from = outlook.by(confidence - error);
    Ok(Promise {
        tags: pairs.iter().map(|pair| pair.tag.clone()).collect(),
        due,
        done_by: outlook.by(confidence),
        from: from.and_then(|by| collected_from(&all, by)),
        days,
    })
}

fn refuse(instance: &Instance, pairs: &[PlanPair], confidence: f64) -> Result<(), InvalidField> {
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
    Ok(())
}

/// Asks about the days before the first that is kept often enough anyway. `outlook` becomes a better one if the search
/// had missed it.
fn sooner_days(
    all: &Instance,
    asked: &Asked<'_>,
    outlook: &mut Outlook,
    confidence: f64,
) -> Result<Vec<AskedDay>, InvalidField> {
    let ends: Vec<i64> = days(all, &outlook.plan).iter().map(|day| day.end).collect();
    let mut told: Vec<AskedDay> = Vec::new();
    for end in ends.iter().copied().skip(asked.first_day(&ends)).take(MOST_ASKED) {
        if outlook.kept(end) >= confidence || told.last().is_some_and(|day| day.kept >= ENOUGH) {
            break;
        }
        let (day, plan) = asked.day(end, &outlook.plan)?;
        told.push(day);
        if asked.is_better(&plan, &outlook.plan) {
            *outlook = asked.outlook(plan);
        }
    }
    Ok(told)
}

/// Notes what was told about the days that were asked about. A later day is no harder to keep.
fn join(days: &mut [PromiseDay], told: Vec<AskedDay>) {
    let mut told = told.into_iter().peekable();
    let (mut kept, mut pressed) = (0.0_f64, 0.0_f64);
    for day in days {
        if let Some(asked) = told.next_if(|asked| asked.end == day.end) {
            (kept, pressed) = (kept.max(asked.kept), pressed.max(asked.pressed));
            day.late_instead = asked.late_instead;
        }
        kept = kept.max(day.kept);
        pressed = pressed.max(kept);
        (day.kept, day.pressed) = (kept, pressed);
    }
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

/// The days that have windows, with the minutes that a plan uses of each; the probabilities are 0.
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
                pressed: 0.0,
                late_instead: Vec::new(),
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
