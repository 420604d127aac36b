//! The parts that were put on a pair, and what later visits saw of them.

use crate::log::body::{Decision, OperationCode};
use crate::log::entry::{PersonId, SubjectId};
use crate::price::records::{At, FoundDamage, JobFacts};
use crate::trade::formulas::day::Day;
use crate::trade::{Component, fits, part_effects};
use crate::wear::guards::Guards;
use crate::wear::put_on::comes_off;

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
    /// Whether other work took it off, as a new sole takes off the guard: what is not known to be worn has not worn
    /// out.
    pub taken_off: bool,
}

impl Fitted {
    /// Whether it is still on, as far as is known.
    pub fn still_on(&self) -> bool {
        !self.taken_off && self.worn.is_none_or(|worn| !worn.renewed)
    }
}

/// Everything that was put on a pair, oldest first, from all its jobs in any order. Jobs that have not left the shop
/// are left out, and so are jobs with an implausible clock.
pub fn fitted(jobs: &[JobFacts]) -> Vec<Fitted> {
    let mut visits: Vec<(Day, &JobFacts)> =
        jobs.iter().filter_map(|job| Some((brought(job)?, job))).collect();
    visits.sort_by_key(|(day, job)| (*day, job.job));
    let guards = Guards::of_jobs(jobs);
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
                taken_off: false,
            };
            watch(&mut one, &visits[at + 1..], &guards);
            all.push(one);
        }
    }
    all
}

/// The day on which a pair was brought.
fn brought(job: &JobFacts) -> Option<Day> {
    job.opened_at.or(job.handed_over_at).and_then(At::day)
}

/// Follows a part through the visits after it was fitted, until it is renewed or taken off.
fn watch(part: &mut Fitted, later: &[(Day, &JobFacts)], guards: &Guards) {
    let put_on = part_effects(&part.operation).on;
    let layer = put_on
        .iter()
        .find(|fit| fit.part == part.part)
        .map_or(0, |fit| fit.layer);
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
        let damaged = job.found.iter().any(|found| is_worn(found, &part.part, guards));
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
        let mut steps = job.steps.iter().filter(|step| !step.redone);
        if steps.any(|step| comes_off(&part_effects(&step.operation), &part.part, layer)) {
            part.taken_off = true;
            return;
        }
    }
}

/// Whether a line repairs damage that was found inside.
fn from_inside(job: &JobFacts, damage: Option<u32>) -> bool {
    let found = damage.and_then(|at| job.found.get(usize::try_from(at).ok()?));
    found.is_some_and(|found| found.inside)
}

/// Whether damage means that a part is worn: not if it was good enough to keep. From outside a guard hides the sole
/// that it lies on.
fn is_worn(found: &FoundDamage, part: &Component, guards: &Guards) -> bool {
    let seen = if found.inside {
        found.part.clone()
    } else {
        guards.seen(&found.part, &found.side, found.at.0)
    };
    seen == *part && found.decision != Some(Decision::Keep)
}
