//! How much of the work had to be done again, by operation, cement, material of the sole and person.
//!
//! Counted is what was done: an operation on a job, once, however many steps it took. It had to be done again if one of
//! its steps was made again before the pair left, or if the pair came back because of it and the cause is the shop's.
//! Of several steps, the one that was made again counts against its cement and its person; of a complaint, the last
//! step that stood. The materials of soles are counted for work with cement only.
//!
//! The interval is that of a beta distribution from a flat prior: between its bounds lies the true share with 95 %.

use std::collections::{BTreeMap, BTreeSet};

use serde::{Deserialize, Serialize};

use super::questions::{RedoneBy, RedoneQuery};
use super::shop::ShopSettings;
use crate::log::body::{Cause, OperationCode};
use crate::log::entry::{PersonId, SubjectId};
use crate::price::allowance::{Count, pooled};
use crate::price::records::{JobFacts, StepFact};
use crate::trade::cement_guide::{OwnCements, uses_cement};
use crate::trade::{Material, operations};

/// Of less work than this no share is told.
pub const FEWEST_DONE: u32 = 5;

/// The work of one group.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct RedoneShare {
    /// The group, in words.
    pub name: String,
    /// How often it was done.
    pub done: u32,
    /// How often of these it had to be done again.
    pub again: u32,
    /// The 95 % interval of the share, from 0 to 1; `None` for fewer than [`FEWEST_DONE`].
    pub between: Option<[f64; 2]>,
}

/// The shares of all groups.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
pub struct RedoneShares {
    /// Those that are told, the greatest share first, then those of which too little was done, the most first.
    pub rows: Vec<RedoneShare>,
    /// How many complaints have no cause yet: they are not counted.
    pub without_cause: u32,
}

/// What work is grouped by.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
enum RedoneGroup {
    Operation(OperationCode),
    Cement(String),
    Sole(Material),
    Person(PersonId),
}

impl RedoneGroup {
    fn words(&self, shop: &ShopSettings, own: &OwnCements) -> String {
        match self {
            Self::Operation(code) => operations::name(code).to_owned(),
            // A product that the guide does not know is called by its own name.
            Self::Cement(word) => own.name_of(word),
            Self::Sole(material) => material.words().to_owned(),
            Self::Person(person) => shop
                .name_of(*person)
                .unwrap_or(words::analytics::nobody_named())
                .to_owned(),
        }
    }
}

/// Whether a cause is the shop's: its work, its material, or what it agreed.
fn is_ours(cause: &Cause) -> bool {
    matches!(
        cause,
        Cause::OurWork
            | Cause::Material
            | Cause::Bond
            | Cause::Seam
            | Cause::Fit
            | Cause::Colour
            | Cause::NotAsAgreed
    )
}

/// The shares of the work on these jobs.
pub(super) fn shares(asked: &RedoneQuery, jobs: &[JobFacts]) -> RedoneShares {
    let own = OwnCements::of(&asked.shop.state());
    let complaints = || jobs.iter().filter_map(|job| job.complaint.as_ref());
    let ours = complaints().filter(|complaint| complaint.cause.as_ref().is_some_and(is_ours));
    let complained: BTreeSet<(SubjectId, &OperationCode)> = ours
        .map(|complaint| (complaint.job, &complaint.operation))
        .collect();
    let mut counts: BTreeMap<RedoneGroup, Count> = BTreeMap::new();
    for job in jobs {
        for operation in done(job) {
            let steps: Vec<&StepFact> = job
                .steps
                .iter()
                .filter(|step| step.operation == *operation)
                .collect();
            let of = |steps: &[&StepFact]| groups(asked.by, job, operation, steps);
            for group in of(&steps) {
                counts.entry(group).or_default().opened += 1;
            }
            let came_back = complained.contains(&(job.job, operation));
            let faulty = faulty(&steps, came_back);
            if came_back || !faulty.is_empty() {
                for group in of(&faulty) {
                    counts.entry(group).or_default().found += 1;
                }
            }
        }
    }
    let rows = counts
        .iter()
        .map(|(group, count)| share(group.words(&asked.shop, &own), *count));
    let without = complaints().filter(|complaint| complaint.cause.is_none());
    RedoneShares {
        rows: sorted(rows.collect()),
        without_cause: u32::try_from(without.count()).unwrap_or(u32::MAX),
    }
}

/// The operations done on a job, each once: those with a step and, once the job is finished, all that were agreed.
fn done(job: &JobFacts) -> BTreeSet<&OperationCode> {
    let finished = (job.ready_at.is_some() || job.handed_over_at.is_some()) && !job.unrepaired;
    let agreed = job.lines.iter().filter(|_| finished).map(|line| &line.operation);
    let steps = job.steps.iter().map(|step| &step.operation);
    steps.chain(agreed).collect()
}

/// The steps that had to be done again: those made again and, if the pair came back, the last one that stood.
fn faulty<'a>(steps: &[&'a StepFact], came_back: bool) -> Vec<&'a StepFact> {
    let again = steps.iter().copied().filter(|step| step.redone);
    let last = steps.iter().copied().rev().find(|step| !step.redone);
    again.chain(last.filter(|_| came_back)).collect()
}

/// The groups of an operation on a job, done by these steps.
fn groups(
    by: RedoneBy,
    job: &JobFacts,
    operation: &OperationCode,
    steps: &[&StepFact],
) -> BTreeSet<RedoneGroup> {
    let steps = steps.iter();
    match by {
        RedoneBy::Operation => BTreeSet::from([RedoneGroup::Operation(operation.clone())]),
        RedoneBy::Cement => steps
            .filter_map(|step| step.cement.clone())
            .map(RedoneGroup::Cement)
            .collect(),
        RedoneBy::Sole if uses_cement(operation) => {
            job.soles.iter().cloned().map(RedoneGroup::Sole).collect()
        }
        RedoneBy::Sole => BTreeSet::new(),
        RedoneBy::Person => steps
            .filter_map(|step| job.person(step))
            .map(RedoneGroup::Person)
            .collect(),
    }
}

fn share(name: String, count: Count) -> RedoneShare {
    let told = count.opened >= FEWEST_DONE;
    let rate = pooled(&[]).after(count);
    RedoneShare {
        name,
        done: count.opened,
        again: count.found,
        between: told.then(|| [rate.quantile(0.025), rate.quantile(0.975)]),
    }
}

/// The shares that are told, the greatest first, then the others, the most done first; the same ones by name.
fn sorted(mut rows: Vec<RedoneShare>) -> Vec<RedoneShare> {
    let told = |row: &RedoneShare| row.between.is_some();
    let share = |row: &RedoneShare| f64::from(row.again) / f64::from(row.done);
    rows.sort_by(|one, other| {
        let order = match (told(one), told(other)) {
            (true, true) => share(other).total_cmp(&share(one)),
            (false, false) => other.done.cmp(&one.done),
            (told, also) => also.cmp(&told),
        };
        order.then_with(|| one.name.cmp(&other.name))
    });
    rows
}

#[cfg(test)]
mod tests;
