//! Attended minutes without a stopwatch, inferred from a person's stamps of a day on all pairs.
//!
//! A stamp ends the work since the same person's stamp before it: photographs and steps are recorded when the work is
//! done, or during it. From that rule follow all others:
//!
//! - **One pair of hands.** Every minute of a person's day is given out once, so interleaved work is never counted
//!   twice, and the total is never more than the time from the first stamp to the last (except for the day's first step
//!   and noted minutes).
//! - **Several at once.** Stamps at the bench within [`TOGETHER_MS`] of each other are one moment: six pairs are done,
//!   then "done" is tapped six times. The time before is shared evenly by the pairs in it, then by each pair's
//!   operations.
//! - **Waits.** While a pair dries nobody works on it: that time goes to the other pairs of the moment, or to none. A
//!   wait that was still running when the next step was recorded was cut short, and does not count.
//! - **The counter.** The time between two acts at the counter no more than [`VISIT_MS`] apart belongs to the customer,
//!   and so do the [`GREETING_MS`] before the first. The rest of the time before them was interrupted work, and goes to
//!   the next stamp at the bench.
//! - **Gaps.** If a pair's share is longer than 90 minutes (or the trade's norm, if that is more), or than the greatest
//!   usual length for its operation, the person was away, waited for work, or forgot to record it. The share then
//!   counts as [`UsualMinutes::over`], a rather long usual stretch, but never as more than the share; without usual
//!   minutes it counts as 0. Usual minutes come from the shop's own stretches of work ([`own_usual`]), and until there
//!   are enough, from the trade's norm. In the simulated shop (`shared/tests/simulated_shop`) this is nearer to the
//!   truth than 0, which loses every long seam, and than the whole gap, which counts every meal.
//! - **The day's first step** has no stamp before it and counts as the usual minutes too.
//! - **Acts that belong to no operation**, such as damage found, count for the pair's next operation of the day; if
//!   there is none, for the pair itself, under an empty name.
//! - **Noted minutes win.** They are taken from the time before their stamp first; the rest goes to the others of the
//!   same moment, if there are any.

mod asked;
mod infer;
mod rules;
mod share;

use std::collections::{BTreeMap, BTreeSet};

pub use asked::{Inferred, StampDay};
pub use rules::Rules;

use serde::{Deserialize, Serialize};

use crate::log::body::OperationCode;
use crate::log::entry::{PersonId, SubjectId};
use crate::trade::formulas::day::Day;
use crate::trade::operation;

use super::quantile::quantile;
use super::records::{PairWait, WorkStamp};
use infer::{Act, infer};
use share::DryingSpan;

/// Stamps at the bench that are this close are one moment, in ms.
const TOGETHER_MS: i64 = 120_000;
/// Acts at the counter that are this close are one visit, in ms.
const VISIT_MS: i64 = 600_000;
/// How long before the first act of a visit the customer came in, in ms.
const GREETING_MS: i64 = 120_000;
/// The longest share that counts as work, in minutes.
pub const GAP_LIMIT_MIN: f64 = 90.0;
/// The longest share that counts as work on an operation, as a multiple of the geometric mean of the trade's norm.
const MOST_NORMS: f64 = 2.0;
/// The same as a multiple of the upper quartile of a shop's own stretches.
const MOST_QUARTERS: f64 = 1.5;
/// How many stretches of work on an operation are needed to replace the trade's norm.
pub const FEWEST: usize = 12;

/// The attended minutes of an operation on a job.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Attended {
    /// The job.
    #[serde(rename = "j")]
    pub job: SubjectId,
    /// The operation; `None` for work that belongs to the pair as a whole.
    #[serde(rename = "o", default, skip_serializing_if = "Option::is_none")]
    pub operation: Option<OperationCode>,
    /// The person who did it.
    #[serde(rename = "p", default, skip_serializing_if = "Option::is_none")]
    pub person: Option<PersonId>,
    /// Minutes.
    #[serde(rename = "m")]
    pub minutes: f64,
    /// Whether the minutes were noted by a person rather than inferred.
    #[serde(rename = "n", default, skip_serializing_if = "std::ops::Not::not")]
    pub noted: bool,
}

/// The usual length of one stretch of work on an operation, in minutes.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct UsualMinutes {
    /// The median.
    pub minutes: f64,
    /// What a stretch longer than `most` counts as.
    pub over: f64,
    /// The longest stretch that counts as work as a whole.
    pub most: f64,
}

/// The usual minutes from the trade's norm: its geometric mean, and at most twice that, but no more than [`longest`].
pub fn usual(code: &str) -> Option<UsualMinutes> {
    let norm = operation(code)?.minutes;
    let minutes = (f64::from(norm.low) * f64::from(norm.high)).sqrt();
    Some(UsualMinutes {
        minutes,
        over: minutes,
        most: (MOST_NORMS * minutes).min(longest(code)),
    })
}

/// The upper end of the trade's norm for a whole job, in minutes; 0 where there is none.
fn norms_most(code: &str) -> f64 {
    operation(code).map_or(0.0, |known| f64::from(known.minutes.high))
}

/// The longest stretch that counts as work on an operation, in minutes: 90, or the upper end of the trade's norm if
/// that is longer.
fn longest(code: &str) -> f64 {
    operation(code).map_or(GAP_LIMIT_MIN, |known| {
        GAP_LIMIT_MIN.max(f64::from(known.minutes.high))
    })
}

/// The usual minutes in this shop, from all its stamps, for operations with at least [`FEWEST`] stretches that are no
/// longer than [`longest`]: their median, their upper quartile, and one and a half times the quartile as the most.
/// Other operations keep the trade's norm.
///
/// Breaks lengthen some stretches and shorten none, so the middle is hardly affected by them, and the longest stretches
/// mostly contain them.
pub fn own_usual(stamps: &[WorkStamp], waits: &[PairWait]) -> BTreeMap<String, UsualMinutes> {
    let mut stretches: BTreeMap<&str, Vec<f64>> = BTreeMap::new();
    let (days, waits) = (days(stamps), by_job(waits));
    for day in days.values() {
        for (operation, minutes) in day_of(day, &waits, &Rules::unknowing()).stretches {
            stretches.entry(operation).or_default().push(minutes);
        }
    }
    let mut all = BTreeMap::new();
    for (operation, mut minutes) in stretches
        .into_iter()
        .filter(|(_, minutes)| minutes.len() >= FEWEST)
    {
        minutes.sort_by(f64::total_cmp);
        let usual = UsualMinutes {
            minutes: quantile(&minutes, 0.5),
            over: quantile(&minutes, 0.75),
            most: (MOST_QUARTERS * quantile(&minutes, 0.75)).max(norms_most(operation)),
        };
        all.insert(operation.to_owned(), usual);
    }
    all
}

/// The attended minutes with this shop's own usual minutes: inferred twice, first to learn those.
pub fn attended_by_own(stamps: &[WorkStamp], waits: &[PairWait]) -> Vec<Attended> {
    let own = own_usual(stamps, waits);
    let usual = |code: &str| own.get(code).copied().or_else(|| usual(code));
    let rules = Rules {
        usual: &usual,
        ..Rules::default()
    };
    attended(stamps, waits, &rules)
}

type Days<'a> = BTreeMap<(Option<PersonId>, Day), Vec<&'a WorkStamp>>;

fn days(stamps: &[WorkStamp]) -> Days<'_> {
    let mut days: Days<'_> = BTreeMap::new();
    for stamp in stamps {
        if let Some(day) = stamp.at.day() {
            days.entry((stamp.person, day)).or_default().push(stamp);
        }
    }
    days
}

type Spans = BTreeMap<SubjectId, Vec<DryingSpan<SubjectId>>>;

fn by_job(waits: &[PairWait]) -> Spans {
    let mut spans: Spans = BTreeMap::new();
    for wait in waits {
        spans.entry(wait.job).or_default().push(DryingSpan {
            job: wait.job,
            from: wait.from.0,
            until: wait.until.0,
        });
    }
    spans
}

/// The attended minutes from the stamps of any number of people and days, by job, operation and person.
///
/// The stamps must be complete for these people and days, on all pairs: otherwise the time of missing pairs is given to
/// the others. Days are those of the shop's clock; stamps with an implausible clock are left out.
pub fn attended(stamps: &[WorkStamp], waits: &[PairWait], rules: &Rules<'_>) -> Vec<Attended> {
    let (days, by_job) = (days(stamps), by_job(waits));
    let mut all: BTreeMap<(SubjectId, Option<&str>, Option<PersonId>), infer::Share> = BTreeMap::new();
    let mut noted: BTreeSet<(SubjectId, Option<&str>)> = BTreeSet::new();
    for ((person, _), day) in &days {
        for ((job, operation), share) in day_of(day, &by_job, rules).shares {
            all.entry((job, operation, *person)).or_default().add(share);
            if share.noted {
                noted.insert((job, operation));
            }
        }
    }
    // The minutes that one person noted are all of a job's operation, whatever was inferred for other people.
    let stands = |(job, operation, _): &(SubjectId, Option<&str>, _), share: &infer::Share| {
        share.noted || !noted.contains(&(*job, *operation))
    };
    all.into_iter()
        .filter(|(key, share)| stands(key, share))
        .map(|((job, operation, person), share)| Attended {
            job,
            operation: operation.map(OperationCode::from),
            person,
            minutes: share.minutes,
            noted: share.noted,
        })
        .collect()
}

/// One person's day.
fn day_of<'a>(stamps: &[&'a WorkStamp], waits: &Spans, rules: &Rules<'_>) -> infer::Inference<'a, SubjectId> {
    let act = |stamp: &&'a WorkStamp| Act {
        job: stamp.job,
        operation: stamp.operation.as_deref(),
        at: stamp.at.0,
        counter: stamp.counter,
        noted: stamp.noted,
    };
    let mut jobs: Vec<SubjectId> = stamps.iter().map(|stamp| stamp.job).collect();
    jobs.sort_unstable();
    jobs.dedup();
    let spans: Vec<_> = jobs
        .iter()
        .filter_map(|job| waits.get(job))
        .flatten()
        .copied()
        .collect();
    infer(stamps.iter().map(act).collect(), &spans, rules)
}

#[cfg(test)]
mod tests;
