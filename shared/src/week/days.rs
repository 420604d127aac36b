//! The day to promise at the counter.

use super::answers::{DayChoice, DayChoices};
use super::bench::{Bench, WeekInput};
use super::certainty::Certainty;
use super::job::Job;
use crate::plan::{Instance, PromiseDay, SolveLimits, days, promise, solve};

/// How many days are shown; more if the suggested one comes later.
const SHOWN: usize = 10;
/// A probability above this is shown as 1: the day is kept whatever else is planned.
const SURE: f64 = 0.995;

/// The days that can be promised for `new` beside the jobs in the shop. Held jobs count as well, because they will come
/// back.
///
/// The load of a day is the work planned on it, that of `new` included; so the suggested day may have a high load, but
/// it is never called full. Suggested is the first day that is kept as often as the shop wishes, so no day before it is
/// as certain.
pub(crate) fn days_told(jobs: Vec<Job>, new: Vec<Job>, given: &WeekInput<'_>) -> DayChoices {
    let known = jobs.len();
    let mut all = jobs;
    all.extend(new);
    let bench = Bench::of(all, given);
    let mut instance = bench.instance.clone();
    let new = instance.pairs.split_off(known);
    let kept = f64::from(bench.week.hours.kept) / 100.0;
    let Some((all, from)) = promised_days(&instance, &new, kept) else {
        return DayChoices::default();
    };
    let by_time = from.and_then(|from| all.iter().position(|day| from <= day.end));
    let by_day = all.iter().position(|day| !new.is_empty() && day.kept >= kept);
    let suggested = by_time.into_iter().chain(by_day).min();
    // At the end of a day the time is left out; so it is on a day that comes before that of the time.
    let from = from.filter(|from| suggested.is_none_or(|at| by_time == Some(at) && *from < all[at].end));
    let last = suggested.map_or(SHOWN, |at| SHOWN.max(at + 2));
    let day_of = |day: &PromiseDay| bench.week.day(day.end - 1);
    let shown = all.iter().enumerate().take(last).filter_map(|(at, day)| {
        let [kept, pressed] = [day.kept, day.pressed]
            .map(|share| (!new.is_empty()).then_some(if share > SURE { 1.0 } else { share }));
        // What is brought now finds time on a day that keeps it, however much else is planned there.
        let has_room =
            kept.map(Certainty::of) >= Some(Certainty::Likely) || suggested.is_some_and(|first| first <= at);
        Some(DayChoice {
            day: day_of(day)?,
            load: (day.planned as f64 / (day.minutes.max(1)) as f64).clamp(0.0, 1.0),
            full: day.full && !has_room,
            kept,
            pressed,
            late_instead: day.late_instead.clone(),
        })
    });
    DayChoices {
        days: shown.collect(),
        suggested: suggested.and_then(|at| day_of(&all[at])),
        from: from.map(|from| bench.week.time(from)),
    }
}

/// The days, and from when on the new pairs can be collected with the requested probability.
fn promised_days(
    instance: &Instance,
    new: &[crate::plan::PlanPair],
    kept: f64,
) -> Option<(Vec<PromiseDay>, Option<i64>)> {
    if new.is_empty() {
        let plan = solve(instance, &SolveLimits::default()).ok()?;
        return Some((days(instance, &plan), None));
    }
    let promised = promise(instance, new, kept, &SolveLimits::default()).ok()?;
    Some((promised.days, promised.from))
}

#[cfg(test)]
mod tests;
