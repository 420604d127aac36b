//! When a pair should be checked next.

use super::{Fitted, PartLife};
use crate::log::body::Side;
use crate::price::records::{At, JobFacts, Thickness};
use crate::trade::fits::{limit_mm, limit_of};
use crate::trade::formulas::Calculation;
use crate::trade::formulas::day::Day;
use crate::wear::guards::Guards;
use crate::wear::wear_forecast::{Measurement, Measurements, too_close};

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

impl Check {
    /// The same check as it is told on a day: no day lies in the past, one that does is `today`.
    #[must_use]
    pub fn told_on(self, today: Day) -> Self {
        Self {
            on: self.on.max(today),
            from: self.from.max(today),
            until: self.until.max(today),
            ..self
        }
    }
}

/// When a part that is on the pair should be checked. It is forecast from the part's own dated thicknesses, if they
/// lie far enough apart since it was fitted and show wear; otherwise from the life of such parts, given that it was
/// good when last seen. `None` if there is neither; [`why_no_forecast`] then says what the thicknesses lack.
///
/// The day is not before the last thickness that it is based on, on which a part that is worn is due. It may lie in the
/// past: the check is then overdue, and told with [`Check::told_on`].
pub fn next_check(part: &Fitted, jobs: &[JobFacts], life: Option<&PartLife>) -> Option<Check> {
    if !part.still_on() {
        return None;
    }
    by_thickness(part, jobs).or_else(|| by_life(part, life?))
}

/// Why the thicknesses of a part that is on the pair forecast no day, in words; `None` where they do, and where there
/// are none.
pub fn why_no_forecast(part: &Fitted, jobs: &[JobFacts]) -> Option<String> {
    if !part.still_on() || limit(part).is_none() || by_thickness(part, jobs).is_some() {
        return None;
    }
    let shoes = measured(part, jobs);
    let spans = shoes
        .iter()
        .filter_map(|all| Some((all.first()?.date, all.last()?.date)));
    // The shoe whose measures lie farthest apart.
    let (first, last) = spans.max_by_key(|(first, last)| last.count() - first.count())?;
    Some(too_close(first, last).unwrap_or_else(|| words::wear::hardly_worn().to_owned()))
}

/// The thickness in mm at which the part counts as worn: by the operation that put it on, else by the kind of part.
fn limit(part: &Fitted) -> Option<f64> {
    limit_of(&part.operation).or_else(|| limit_mm(&part.part))
}

/// By the shoe that reaches the limit first.
fn by_thickness(part: &Fitted, jobs: &[JobFacts]) -> Option<Check> {
    let limit_mm = limit(part)?;
    let checks = measured(part, jobs)
        .into_iter()
        .filter_map(|all| by_measures(all, limit_mm));
    checks.min_by_key(|check| check.on)
}

/// The measurements of a part since it was fitted, of the left shoe and of the right, each the oldest first. One of
/// both shoes counts for each.
fn measured(part: &Fitted, jobs: &[JobFacts]) -> [Vec<Measurement>; 2] {
    let guards = Guards::of_jobs(jobs);
    [Side::Left, Side::Right].map(|shoe| {
        let mut all: Vec<&Thickness> = Vec::new();
        for job in jobs {
            let own = job
                .thickness
                .iter()
                .filter(|one| is_of(part, one, &shoe, &guards));
            all.extend(own.filter(|one| since(part, job, one)));
        }
        all.sort_by_key(|one| one.at);
        let dated = all.into_iter().filter_map(|one| {
            Some(Measurement {
                date: one.at.day()?,
                thickness_mm: one.thickness_mm,
            })
        });
        dated.collect()
    })
}

/// Whether a thickness is that of the part on this shoe.
fn is_of(part: &Fitted, one: &Thickness, shoe: &Side, guards: &Guards) -> bool {
    let of = guards.measured(&one.part, shoe, one.at.0, one.thickness_mm);
    of.as_ref() == Some(&part.part) && (one.side == *shoe || one.side == Side::Both)
}

/// Whether a thickness was measured since the part was fitted: on the job that fitted it, earlier measurements are of
/// the part that came off.
fn since(part: &Fitted, job: &JobFacts, one: &Thickness) -> bool {
    match put_on(part, job) {
        Some(moment) => one.at >= moment,
        None => one.at.day().is_some_and(|day| day >= part.on),
    }
}

/// The check of one shoe by its measurements, the oldest first.
fn by_measures(measurements: Vec<Measurement>, limit_mm: f64) -> Option<Check> {
    let (count, last) = (measurements.len(), *measurements.last()?);
    let source = CheckBasis::Measured(count);
    if last.thickness_mm <= limit_mm {
        return Some(Check {
            on: last.date,
            from: last.date,
            until: last.date,
            source,
        });
    }
    let forecast = Measurements {
        measurements,
        limit_mm,
    }
    .calculate()
    .ok()?;
    // The line through scattered measures may have been at the limit before the last of them, which was not.
    let reaches = forecast.reaches_on?.max(last.date);
    let days = reaches.count() - last.date.count();
    let on = Day::counted(reaches.count() - (days as f64 * BEFORE).round() as i64)?;
    let [from, until] = forecast.reaches_interval.unwrap_or([on, reaches]);
    Some(Check {
        on,
        from: from.max(last.date).min(on),
        until: until.max(on),
        source,
    })
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
