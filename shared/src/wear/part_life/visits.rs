//! The parts that were put on a pair, and what later visits saw of them.

use crate::log::body::{Decision, OperationCode};
use crate::log::entry::{PersonId, SubjectId};
use crate::price::records::{At, FoundDamage, JobFacts};
use crate::trade::formulas::day::Day;
use crate::trade::{Component, fits};

/// The visit that saw a part worn.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Worn {
    /// The job of the visit.
    pub job: SubjectId,
    /// Days after the part was fitted.
    pub days: i64,
    /// Whether the pair was brought because of it.
    pub came_for_it: bool,
    /// Whether the part was renewed on this job.
    pub renewed: bool,
}

/// A part that was put on.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Fitted {
    /// The operation that put it on.
    pub operation: OperationCode,
    /// The part.
    pub part: Component,
    /// The job of the operation.
    pub job: SubjectId,
    /// The day the pair left with it.
    pub on: Day,
    /// The person who did it, if known.
    pub by: Option<PersonId>,
    /// Days after it was fitted when it was last seen good; 0 where it was not seen again.
    pub good_days: i64,
    /// The first visit that saw it worn; `None` if none has.
    pub worn: Option<Worn>,
}

impl Fitted {
    /// Whether it is still on, as far as is known.
    pub fn still_on(&self) -> bool {
        self.worn.is_none_or(|worn| !worn.renewed)
    }
}

/// Everything that was put on a pair, oldest first, from all its jobs in any order. Jobs that have not left the shop
/// are left out, and so are jobs with an implausible clock.
pub fn fitted(jobs: &[JobFacts]) -> Vec<Fitted> {
    let mut visits: Vec<(Day, &JobFacts)> =
        jobs.iter().filter_map(|job| Some((brought(job)?, job))).collect();
    visits.sort_by_key(|(day, job)| (*day, job.job));
    let mut all = Vec::new();
    for (at, (_, job)) in visits.iter().enumerate() {
        let Some(on) = job.handed_over_at.and_then(At::day) else {
            continue;
        };
        let mut seen: Vec<&str> = Vec::new();
        for step in job.steps.iter().rev().filter(|step| !step.redone) {
            let Some(part) = fits(&step.operation).filter(|_| !seen.contains(&step.operation.as_str()))
            else {
                continue;
            };
            seen.push(&step.operation);
            let mut one = Fitted {
                operation: step.operation.clone(),
                part,
                job: job.job,
                on,
                by: job.person(step),
                good_days: 0,
                worn: None,
            };
            watch(&mut one, &visits[at + 1..]);
            all.push(one);
        }
    }
    all
}

/// The day on which a pair was brought.
fn brought(job: &JobFacts) -> Option<Day> {
    job.opened_at.or(job.handed_over_at).and_then(At::day)
}

/// Follows a part through the visits after it was fitted, until it is renewed.
fn watch(part: &mut Fitted, later: &[(Day, &JobFacts)]) {
    for (day, job) in later {
        let days = day.count() - part.on.count();
        if days < 0 {
            continue;
        }
        let renewing = |operation: &str| fits(operation).as_ref() == Some(&part.part);
        let renewed = job.steps.iter().any(|step| renewing(&step.operation));
        let agreed = job
            .lines
            .iter()
            .any(|line| renewing(&line.operation) && !from_inside(job, line.damage));
        let damaged = job.found.iter().any(|found| is_worn(found, &part.part));
        if renewed || damaged {
            let first = part.worn.get_or_insert(Worn {
                job: job.job,
                days,
                came_for_it: agreed,
                renewed: false,
            });
            first.renewed = renewed;
            if renewed {
                return;
            }
        } else if part.worn.is_none() {
            part.good_days = days;
        }
    }
}

/// Whether a line repairs damage that was found inside.
fn from_inside(job: &JobFacts, damage: Option<u32>) -> bool {
    let found = damage.and_then(|at| job.found.get(usize::try_from(at).ok()?));
    found.is_some_and(|found| found.inside)
}

/// Whether damage means that a part is worn: not if it was good enough to keep.
fn is_worn(found: &FoundDamage, part: &Component) -> bool {
    found.part == *part && found.decision != Some(Decision::Keep)
}
