//! When a pair should be checked next.

use super::{Fitted, PartLife};
use crate::log::body::Side;
use crate::price::records::{At, JobFacts, Thickness};
use crate::trade::fits::limit_mm;
use crate::trade::formulas::Calculation;
use crate::trade::formulas::day::Day;
use crate::wear::wear_forecast::{Measurement, Measurements};

/// A check is due when this share of parts has worn out.
const CHECK: f64 = 0.25;
/// The range of a check is from the day when this share has worn out to the day when half have.
const FROM: f64 = 0.1;
const UNTIL: f64 = 0.5;
/// How long before the day on which a measured part reaches its limit it should be checked, as a share of the time
/// until then.
const BEFORE: f64 = 0.1;

/// What the day of a check is based on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CheckBasis {
    /// So many measurements of this part.
    Measured(usize),
    /// The lives of so many parts of this kind.
    Lives(usize),
}

/// The day on which a part should be checked.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Check {
    /// The day.
    pub on: Day,
    /// The earliest likely day; no later than `on`.
    pub from: Day,
    /// The latest likely day; no earlier than `on`.
    pub until: Day,
    /// What the day is based on.
    pub source: CheckBasis,
}

/// When a part that is on the pair should be checked. It is forecast from the part's own dated thicknesses, if there
/// are two since it was fitted and they show wear; otherwise from the life of such parts, given that it was good when
/// last seen. `None` if there is neither.
///
/// The day may lie in the past: the check is then overdue.
pub fn next_check(part: &Fitted, jobs: &[JobFacts], life: Option<&PartLife>) -> Option<Check> {
    if !part.still_on() {
        return None;
    }
    by_thickness(part, jobs).or_else(|| by_life(part, life?))
}

fn by_thickness(part: &Fitted, jobs: &[JobFacts]) -> Option<Check> {
    let limit_mm = limit_mm(&part.part)?;
    let since = |job: &JobFacts, one: &Thickness| match put_on(part, job) {
        // On the job that fitted the part, earlier measurements are of the part that came off.
        Some(moment) => one.at >= moment,
        None => one.at.day().is_some_and(|day| day >= part.on),
    };
    let of_job = |job: &'_ JobFacts| {
        let own = job
            .thickness
            .iter()
            .filter(|one| one.part == part.part && since(job, one));
        own.cloned().collect::<Vec<_>>()
    };
    let measured: Vec<Thickness> = jobs.iter().flat_map(of_job).collect();
    let all = || measured.iter();
    // Each shoe's own measurements; one of both shoes counts for each.
    let of = |side: Side| -> Vec<Measurement> {
        all()
            .filter(|one| one.side == side || one.side == Side::Both)
            .filter_map(|one| {
                Some(Measurement {
                    date: At::day(one.at)?,
                    thickness_mm: one.thickness_mm,
                })
            })
            .collect()
    };
    let checks = [Side::Left, Side::Right].into_iter().filter_map(|side| {
        let measurements = of(side);
        let (count, last) = (measurements.len(), measurements.iter().map(|one| one.date).max()?);
        let forecast = Measurements {
            measurements,
            limit_mm,
        }
        .calculate()
        .ok()?;
        let reaches = forecast.reaches_on?;
        let days = reaches.count() - last.count();
        let on = Day::counted(reaches.count() - (days.max(0) as f64 * BEFORE).round() as i64)?;
        let [from, until] = forecast.reaches_interval.unwrap_or([on, reaches]);
        Some(Check {
            on,
            from: from.min(on),
            until: until.max(on),
            source: CheckBasis::Measured(count),
        })
    });
    // The shoe that reaches the limit first.
    checks.min_by_key(|check| check.on)
}

/// When a job put the part on; `None` for any other job.
fn put_on(part: &Fitted, job: &JobFacts) -> Option<At> {
    let steps = job.steps.iter().filter(|step| step.operation == part.operation);
    (job.job == part.job).then(|| steps.map(|step| step.at).min())?
}

fn by_life(part: &Fitted, life: &PartLife) -> Option<Check> {
    let good = part.good_days.max(0) as f64;
    // A part that is already worn was due when that was seen.
    let day = |share: f64| {
        let days = match &part.worn {
            Some(worn) => worn.days as f64,
            None => life.law.failed_after(good, share),
        };
        let days = days.clamp(0.0, 36_500.0).floor() as i64;
        Day::counted(part.on.count() + days)
    };
    Some(Check {
        on: day(CHECK)?,
        from: day(FROM)?,
        until: day(UNTIL)?,
        source: CheckBasis::Lives(life.parts),
    })
}
