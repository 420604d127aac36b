//! Stamps: when which person worked on which job.

use serde::{Deserialize, Serialize};

use super::At;
use crate::log::body::{OperationCode, Seen, Shows, WaitFor, field};
use crate::log::entry::{MadeAt, PersonId, SubjectId, UnixMs};
use crate::log::fold::{Item, JobState, bench};
use crate::trade::operation;

/// An act of one person on one job.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct WorkStamp {
    /// The person; `None` where the device did not know.
    #[serde(rename = "p", default, skip_serializing_if = "Option::is_none")]
    pub person: Option<PersonId>,
    /// The job.
    #[serde(rename = "j")]
    pub job: SubjectId,
    /// The operation; `None` where the act belongs to none.
    #[serde(rename = "o", default, skip_serializing_if = "Option::is_none")]
    pub operation: Option<OperationCode>,
    /// When.
    #[serde(rename = "a")]
    pub at: At,
    /// Whether it was an act at the counter, not at the bench: the time before it belongs to the customer.
    #[serde(rename = "c", default, skip_serializing_if = "std::ops::Not::not")]
    pub counter: bool,
    /// The minutes noted with a step.
    #[serde(rename = "m", default, skip_serializing_if = "Option::is_none")]
    pub noted: Option<u32>,
}

/// A time in which a job dried or set, so that nobody worked on it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct PairWait {
    /// The job.
    #[serde(rename = "j")]
    pub job: SubjectId,
    /// The beginning.
    #[serde(rename = "f")]
    pub from: UnixMs,
    /// The end.
    #[serde(rename = "u")]
    pub until: UnixMs,
}

/// Every act on a job, at the bench and at the counter, in order of time.
///
/// Acts at the bench are steps, photographs of work, damage found inside, measurements, parts taken out and put back,
/// steps made again, the beginning of a drying time, the final check, and the construction found on opening. Acts at
/// the counter are all others that change something. Remarks are neither, nor is what only the plan of the day is told.
pub fn stamps(job_id: SubjectId, job: &JobState) -> Vec<WorkStamp> {
    let mut acts = StampScan {
        job: job_id,
        all: Vec::new(),
    };
    bench_acts(&mut acts, job);
    counter_acts(&mut acts, job);
    acts.all
        .sort_by(|a, b| (a.at, a.counter, &a.operation).cmp(&(b.at, b.counter, &b.operation)));
    acts.all
}

/// The drying times of a job that have an end. A job that waits for material can be worked on, so those waits are left
/// out.
pub fn waits(job_id: SubjectId, job: &JobState) -> Vec<PairWait> {
    let drying = job.waits.iter().filter(|wait| wait.body.what == WaitFor::Drying);
    let span = |wait: &Item<_>| {
        let over = job.waits_over.iter().find(|over| over.body.wait == wait.entry);
        let until = match (bench::ends(wait), over.map(|over| over.at.utc)) {
            (Some(ends), Some(over)) => ends.min(over),
            (ends, over) => ends.or(over)?,
        };
        (until > wait.at.utc).then_some(PairWait {
            job: job_id,
            from: wait.at.utc,
            until,
        })
    };
    drying.filter_map(span).collect()
}

struct StampScan {
    job: SubjectId,
    all: Vec<WorkStamp>,
}

impl StampScan {
    fn act(
        &mut self,
        at: MadeAt,
        person: Option<PersonId>,
        operation: Option<&OperationCode>,
        counter: bool,
    ) -> &mut WorkStamp {
        self.all.push(WorkStamp {
            person,
            job: self.job,
            operation: operation.cloned(),
            at: at.into(),
            counter,
            noted: None,
        });
        let last = self.all.len() - 1;
        &mut self.all[last]
    }

    fn each<T>(&mut self, items: &[Item<T>], counter: bool) {
        for item in items {
            self.act(item.at, item.person, None, counter);
        }
    }
}

fn bench_acts(acts: &mut StampScan, job: &JobState) {
    for item in &job.steps {
        acts.act(item.at, item.person, Some(&item.body.operation), false)
            .noted = bench::noted_minutes(job, item);
    }
    for item in &job.measured {
        acts.act(item.at, item.person, item.body.operation.as_ref(), false);
    }
    for item in &job.redone {
        let step = job.steps.iter().find(|step| step.entry == item.body.step);
        let operation = step.map(|step| &step.body.operation);
        acts.act(item.at, item.person, operation, false);
    }
    for item in &job.photos {
        let operation = item.body.operation.as_ref();
        acts.act(item.at, item.person, operation, item.body.shows == Shows::DropOff);
    }
    for item in &job.damage {
        acts.act(item.at, item.person, None, item.body.seen == Seen::Counter);
    }
    for item in job.waits.iter().filter(|wait| wait.body.what == WaitFor::Drying) {
        // A job left to dry has just been worked on. The wait's note names the operation, or is the person's own text.
        let named = operation(&item.body.note).map(|known| OperationCode::from(known.code));
        acts.act(item.at, item.person, named.as_ref(), false);
    }
    acts.each(&job.taken_out, false);
    acts.each(&job.put_back, false);
    if let Some(slot) = &job.checked {
        acts.act(slot.current.at, slot.current.person, None, false);
    }
}

fn counter_acts(acts: &mut StampScan, job: &JobState) {
    if let Some(slot) = &job.opened {
        acts.act(slot.current.at, slot.current.person, None, true);
    }
    let planning = [field::PUT_ASIDE, field::RUN_BEGUN, field::RUN_INTERRUPTED];
    for (name, slot) in job.details.iter().filter(|(name, _)| !planning.contains(name)) {
        let seen_open = matches!(name, field::CONSTRUCTION_OPENED | field::CONSTRUCTION_LEFT);
        acts.act(slot.current.at, slot.current.person, None, !seen_open);
    }
    if let Some(slot) = &job.handed_over {
        acts.act(slot.current.at, slot.current.person, None, true);
    }
    for item in job.agreed.iter().flat_map(|line| &line.versions) {
        // Extra work because of damage found inside is entered at the bench, together with the damage.
        acts.act(item.at, item.person, None, item.body.damage.is_none());
    }
    acts.each(&job.questions, true);
    acts.each(&job.answers, true);
}
