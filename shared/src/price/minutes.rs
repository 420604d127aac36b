//! Minutes without a stopwatch: what a person's day of stamps, on all pairs, says of attended work.
//!
//! A stamp ends the work since the same person's stamp before it: photographs and steps are noted when the work is
//! done, or in its course. From that rule all others follow:
//!
//! - **One pair of hands.** Every minute of a person's day is given out once, so interleaved work is never counted twice,
//!   and the total is never more than the time from the first stamp to the last (but see the day's first step, and noted
//!   minutes).
//! - **Several at once.** Stamps of the bench within [`TOGETHER_MS`] of each other are one moment: six pairs are done, then
//!   "done" is tapped six times. The time before is shared evenly by the pairs in it, then by each pair's operations.
//! - **Waits.** While a pair dries nobody works on it: that time goes to the other pairs of the moment, or to none. A wait
//!   that was still running when the next step was noted was not waited for, and counts as nothing.
//! - **The counter.** What lies between two acts of the counter no more than [`VISIT_MS`] apart is the customer's, and so are
//!   the [`GREETING_MS`] before the first. The rest of the time before them was work that was interrupted, and goes to the
//!   next stamp of the bench.
//! - **Gaps.** If a pair's share is longer than 90 minutes (or the trade's norm, if that is more), or than the most that is
//!   usual for its operation, somebody went away, waited for work, or forgot to note. It then counts as a usual stretch
//!   that is rather long, never more than the share, and as nothing where nothing is usual. What is usual the shop's own
//!   stretches of work say ([`own_usual`]), and the trade's norm until then.
//!   In the simulated shop (`shared/tests/simulated_shop`) that is nearer to the truth than nothing at all, which loses every
//!   long seam, and than the whole gap, which counts every meal.
//! - **The day's first step** has no stamp before it and counts as what is usual too.
//! - **Acts that belong to no operation**, such as damage found, count for the pair's next operation of the day; if there
//!   is none, for the pair itself, under an empty name.
//! - **Noted minutes win.** They are taken from the time before their stamp first; what is left of it goes to the others of
//!   the same moment, if there are any.

mod asked;
mod infer;
mod rules;
mod share;

use std::collections::{BTreeMap, BTreeSet};

pub use asked::{Inferred, StampDay};
pub use rules::Rules;

use serde::{Deserialize, Serialize};

use crate::log::entry::{PersonId, SubjectId};
use crate::trade::formulas::day::Day;
use crate::trade::operation;

use super::quantile::quantile;
use super::records::{PairWait, WorkStamp};
use infer::{Act, infer};
use share::DryingSpan;

/// Stamps of the bench this close are one moment, ms.
const TOGETHER_MS: i64 = 120_000;
/// Acts of the counter this close are one visit, ms.
const VISIT_MS: i64 = 600_000;
/// A customer was in the shop this long before the first act of a visit, ms.
const GREETING_MS: i64 = 120_000;
/// The longest share that is taken for work, minutes.
pub const GAP_LIMIT_MIN: f64 = 90.0;
/// The longest share that is taken for work on an operation, in times of the middle of the trade's norm.
const MOST_NORMS: f64 = 2.0;
/// The same in times of what three in four of a shop's own stay below.
const MOST_QUARTERS: f64 = 1.5;
/// So many stretches of work say what is usual in a shop.
pub const FEWEST: usize = 12;

/// The attended minutes of an operation on a job.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Attended {
    /// The job.
    #[serde(rename = "j")]
    pub job: SubjectId,
    /// The operation; empty for what belongs to the pair as a whole.
    #[serde(rename = "o", default)]
    pub operation: String,
    /// Who did it.
    #[serde(rename = "p", default, skip_serializing_if = "Option::is_none")]
    pub person: Option<PersonId>,
    /// Minutes.
    #[serde(rename = "m")]
    pub minutes: f64,
    /// Somebody noted them.
    #[serde(rename = "n", default, skip_serializing_if = "std::ops::Not::not")]
    pub noted: bool,
}

/// What is usual for one stretch of work on an operation, minutes.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct UsualMinutes {
    /// Half are no longer.
    pub minutes: f64,
    /// What a longer one than the next counts as.
    pub over: f64,
    /// A longer one was not all work.
    pub most: f64,
}

/// What the trade takes for usual: the middle of its norm, by the geometric mean, and at most twice that; but no more than
/// [`longest`].
pub fn usual(code: &str) -> Option<UsualMinutes> {
    let norm = operation(code)?.minutes;
    let minutes = (f64::from(norm.low) * f64::from(norm.high)).sqrt();
    Some(UsualMinutes {
        minutes,
        over: minutes,
        most: (MOST_NORMS * minutes).min(longest(code)),
    })
}

/// The most of the trade's norm for a whole job, minutes; 0 where there is none.
fn norms_most(code: &str) -> f64 {
    operation(code).map_or(0.0, |known| f64::from(known.minutes.high))
}

/// The longest stretch of work on an operation that is taken for it, minutes: 90, or the most of the trade's norm if that is
/// longer.
fn longest(code: &str) -> f64 {
    operation(code).map_or(GAP_LIMIT_MIN, |known| {
        GAP_LIMIT_MIN.max(f64::from(known.minutes.high))
    })
}

/// What is usual in this shop, from all its stamps, for operations with [`FEWEST`] stretches or more, of those that are not
/// longer than the longest work: their median; what three in four stay below; and one and a half of that as the most. The
/// others keep the trade's norm.
///
/// Rests and meals lengthen some stretches and shorten none, so the middle is nearly free of them, and what sticks out at
/// the top is mostly they.
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

/// The attended minutes by what is usual in this very shop: inferred twice, first to learn what that is.
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

/// The attended minutes that the stamps of any number of people and days say, by job, operation and person.
///
/// Give all stamps of the people and days in question, on whatever pair: a day of which some pairs are missing is given to
/// the others. Days are those of the shop's clock; stamps whose clock cannot be right are left out.
pub fn attended(stamps: &[WorkStamp], waits: &[PairWait], rules: &Rules<'_>) -> Vec<Attended> {
    let (days, by_job) = (days(stamps), by_job(waits));
    let mut all: BTreeMap<(SubjectId, &str, Option<PersonId>), infer::Share> = BTreeMap::new();
    let mut noted: BTreeSet<(SubjectId, &str)> = BTreeSet::new();
    for ((person, _), day) in &days {
        for ((job, operation), share) in day_of(day, &by_job, rules).shares {
            all.entry((job, operation, *person)).or_default().add(share);
            if share.noted {
                noted.insert((job, operation));
            }
        }
    }
    // What one person noted is the whole of it, whatever was inferred of the others.
    let stands = |(job, operation, _): &(SubjectId, &str, _), share: &infer::Share| {
        share.noted || !noted.contains(&(*job, *operation))
    };
    all.into_iter()
        .filter(|(key, share)| stands(key, share))
        .map(|((job, operation, person), share)| Attended {
            job,
            operation: operation.to_owned(),
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
        operation: stamp.operation.as_str(),
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
