//! What the books keep of one pair: small enough to be stored beside its summary for every pair the shop ever had.

use std::collections::BTreeSet;

use serde::{Deserialize, Serialize};

use super::stamps::{PairWait, WorkStamp, stamps, waits};
use super::{At, JobFacts, TicketFacts};
use crate::log::body::OperationCode;
use crate::log::entry::{PersonId, SubjectId, UnixMs};
use crate::log::fold::PairHistory;

/// The times of acts are kept in whole seconds.
const SECOND_MS: i64 = 1_000;
/// Marks an act at the counter.
const COUNTER: i64 = 1;

/// Everything the books keep of one pair.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
pub struct PairFacts {
    /// Its jobs.
    #[serde(rename = "j", default, skip_serializing_if = "Vec::is_empty")]
    pub jobs: Vec<JobFacts>,
    /// The tickets of those jobs. Jobs of other pairs may belong to the same tickets.
    #[serde(rename = "t", default, skip_serializing_if = "Vec::is_empty")]
    pub tickets: Vec<TicketFacts>,
    /// The acts and waits of each job, in the order of `jobs`.
    #[serde(rename = "a", default, skip_serializing_if = "Vec::is_empty")]
    acts: Vec<JobActs>,
}

/// The acts and waits of one job. People and operations are named once, and referred to by index.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
struct JobActs {
    #[serde(rename = "p", default, skip_serializing_if = "Vec::is_empty")]
    people: Vec<Option<PersonId>>,
    #[serde(rename = "o", default, skip_serializing_if = "Vec::is_empty")]
    operations: Vec<Option<OperationCode>>,
    /// Each act as: seconds since the act before (for the first: since 1970), minutes ahead of UTC, index of the
    /// person, index of the operation, [`COUNTER`] or 0, and for noted minutes the minutes plus one.
    #[serde(rename = "a", default, skip_serializing_if = "Vec::is_empty")]
    acts: Vec<[i64; 6]>,
    /// The beginning and end of each drying time, in ms since 1970.
    #[serde(rename = "w", default, skip_serializing_if = "Vec::is_empty")]
    waits: Vec<[i64; 2]>,
}

impl PairFacts {
    /// The facts from the history of a pair.
    pub fn of(history: &PairHistory) -> Self {
        let jobs = history
            .jobs
            .iter()
            .map(|(id, state)| JobFacts::of(*id, state, history.ticket_of(state), &history.pair));
        Self {
            jobs: jobs.collect(),
            tickets: history
                .tickets
                .iter()
                .map(|(id, state)| TicketFacts::of(*id, state))
                .collect(),
            acts: history
                .jobs
                .iter()
                .map(|(id, state)| JobActs::of(&stamps(*id, state), &waits(*id, state)))
                .collect(),
        }
    }

    /// The facts of one ticket, in the form in which the books read those of a pair.
    pub fn of_ticket(ticket: TicketFacts) -> Self {
        Self {
            tickets: vec![ticket],
            ..Self::default()
        }
    }

    /// The stamps of its jobs: who worked on them when.
    pub fn stamps(&self) -> impl Iterator<Item = WorkStamp> {
        self.jobs
            .iter()
            .zip(&self.acts)
            .flat_map(|(job, acts)| acts.stamps(job.job))
    }

    /// The drying times of its jobs.
    pub fn waits(&self) -> impl Iterator<Item = PairWait> {
        let of = |(job, acts): (&JobFacts, &'_ JobActs)| {
            let job = job.job;
            let wait = move |[from, until]: [i64; 2]| PairWait {
                job,
                from: UnixMs(from),
                until: UnixMs(until),
            };
            acts.waits.clone().into_iter().map(wait)
        };
        self.jobs.iter().zip(&self.acts).flat_map(of)
    }

    /// Every month in which work was done on it, it left the shop, or something was paid or sold on its ticket, as
    /// `YYYY-MM`. Moments with an implausible clock are left out.
    pub fn months(&self) -> BTreeSet<String> {
        let acts = self
            .jobs
            .iter()
            .zip(&self.acts)
            .flat_map(|(job, acts)| acts.stamps(job.job).map(|stamp| stamp.at));
        let left = self.jobs.iter().filter_map(|job| job.handed_over_at);
        let paid = self.tickets.iter().flat_map(TicketFacts::moments);
        let mut all = BTreeSet::new();
        let mut last = None;
        for month in acts.chain(left).chain(paid).filter_map(At::month) {
            if last.replace(month) != Some(month) {
                all.insert(month_word(month));
            }
        }
        all
    }
}

/// A year and a month as `YYYY-MM`.
pub fn month_word((year, month): (i64, i64)) -> String {
    format!("{year:04}-{month:02}")
}

impl JobActs {
    fn of(stamps: &[WorkStamp], waits: &[PairWait]) -> Self {
        let mut acts = Self {
            waits: waits.iter().map(|wait| [wait.from.0, wait.until.0]).collect(),
            ..Self::default()
        };
        let mut before = 0;
        for stamp in stamps {
            let second = stamp.at.0.div_euclid(SECOND_MS);
            let person = place(&mut acts.people, &stamp.person);
            let operation = place(&mut acts.operations, &stamp.operation);
            let noted = stamp.noted.map_or(0, |minutes| i64::from(minutes) + 1);
            acts.acts.push([
                second - before,
                i64::from(stamp.at.1),
                person,
                operation,
                if stamp.counter { COUNTER } else { 0 },
                noted,
            ]);
            before = second;
        }
        acts
    }

    fn stamps(&self, job: SubjectId) -> impl Iterator<Item = WorkStamp> + '_ {
        let mut at = 0_i64;
        self.acts
            .iter()
            .map(move |[since, offset, person, operation, counter, noted]| {
                at = at.saturating_add(*since);
                WorkStamp {
                    person: named(&self.people, *person).copied().flatten(),
                    job,
                    operation: named(&self.operations, *operation).cloned().flatten(),
                    at: At(at.saturating_mul(SECOND_MS), i16::try_from(*offset).unwrap_or(0)),
                    counter: *counter == COUNTER,
                    noted: u32::try_from(*noted - 1).ok(),
                }
            })
    }
}

/// The index of a value in a list without duplicates; the value is added if it is missing.
fn place<T: PartialEq + Clone>(all: &mut Vec<T>, one: &T) -> i64 {
    let at = all.iter().position(|known| known == one).unwrap_or_else(|| {
        all.push(one.clone());
        all.len() - 1
    });
    i64::try_from(at).unwrap_or(0)
}

fn named<T>(all: &[T], at: i64) -> Option<&T> {
    all.get(usize::try_from(at).ok()?)
}
