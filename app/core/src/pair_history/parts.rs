//! The parts that were put on a pair: what, when, by whom, with which material, under which terms, and how long each
//! was on.

use shared::log::body::OperationCode;
use shared::log::body::{Side, Step};
use shared::log::fold::{Item, JobState, PairHistory, bench};
use shared::log::{EntryId, MadeAt, PersonId, SubjectId};
use shared::trade::Component;
use shared::trade::part_effects;
use shared::trade::step_name;
use shared::wear::put_on::{DoneWork, put_on};

/// A part that the shop has put on.
#[derive(Debug, Clone, PartialEq)]
pub struct FittedPart {
    /// The part.
    pub part: Component,
    /// The shoe; both if both were put on and taken off at the same times.
    pub side: Side,
    /// The operation that put it on.
    pub operation: OperationCode,
    /// That work in words, with its variant; without the shoe, which `side` tells.
    pub work: String,
    /// The job it was put on in.
    pub job: SubjectId,
    /// The step that recorded it.
    pub step: EntryId,
    /// When it was put on.
    pub at: MadeAt,
    /// The person who put it on.
    pub person: Option<PersonId>,
    /// The materials that were noted with the step.
    pub with: Vec<String>,
    /// The remark on the step.
    pub note: String,
    /// The guarantee terms that the customer was given for the job; empty if none.
    pub terms: String,
    /// When it came off; `None` while it is on.
    pub until: Option<MadeAt>,
}

/// Work on a part that put on no new part.
#[derive(Debug, Clone, PartialEq)]
pub struct Mended {
    /// The work in words, with its variant and the shoe.
    pub work: String,
    /// When it was done.
    pub at: MadeAt,
    /// The person who did it.
    pub person: Option<PersonId>,
}

/// A standing step, with its job.
type OfJob<'a> = (SubjectId, &'a JobState, &'a Item<Step>);

/// Every standing step of every job.
fn steps(history: &PairHistory) -> Vec<OfJob<'_>> {
    let of_job = |(id, job)| bench::done(job).map(move |step| (id, job, step));
    let jobs = history.jobs.iter().map(|(id, job)| (*id, job));
    jobs.flat_map(of_job).collect()
}

/// Every part that the shop has put on the pair, the newest first. A step that had to be made again put nothing on.
pub fn parts(history: &PairHistory) -> Vec<FittedPart> {
    let steps = steps(history);
    let done: Vec<_> = steps
        .iter()
        .map(|(_, _, step)| DoneWork {
            operation: &step.body.operation,
            side: &step.body.side,
            at_ms: step.at.utc.0,
        })
        .collect();
    let mut all: Vec<FittedPart> = Vec::new();
    for one in put_on(&done) {
        let Some((job, state, step)) = steps.get(one.by) else {
            continue;
        };
        let until = one.until.and_then(|at| steps.get(at)).map(|(_, _, step)| step.at);
        let twin = all.iter_mut().find(|known| {
            known.step == step.entry
                && known.part == one.part
                && known.until == until
                && known.side == Side::Left
        });
        match twin {
            Some(twin) if one.shoe == Side::Right => twin.side = Side::Both,
            _ => all.push(FittedPart {
                part: one.part,
                side: one.shoe,
                operation: step.body.operation.clone(),
                work: work_without_shoe(state, &step.body),
                job: *job,
                step: step.entry,
                at: step.at,
                person: step.person,
                with: step.body.used.iter().map(|used| used.material.clone()).collect(),
                note: step.body.note.clone(),
                terms: terms(state),
                until,
            }),
        }
    }
    all.reverse();
    all
}

/// The work of a step in words, as if it had been done on both shoes.
fn work_without_shoe(job: &JobState, step: &Step) -> String {
    let both = Step {
        side: Side::Both,
        ..step.clone()
    };
    step_name(&both, bench::line_of_step(job, step).map(|line| &line.body))
}

/// The guarantee terms that the customer was given for a job.
fn terms(job: &JobState) -> String {
    let published = job.published.last();
    published.map_or_else(String::new, |item| item.body.section.terms.clone())
}

/// The work on a part that put on no new part, the newest first.
pub fn mended(history: &PairHistory, part: &Component) -> Vec<Mended> {
    let steps = steps(history);
    let of_it = steps
        .iter()
        .filter(|(_, _, step)| part_effects(&step.body.operation).mends.contains(part));
    let mut all: Vec<_> = of_it
        .map(|(_, state, step)| Mended {
            work: bench::name_of_step(state, &step.body),
            at: step.at,
            person: step.person,
        })
        .collect();
    all.sort_by_key(|one| std::cmp::Reverse(one.at.utc));
    all
}

#[cfg(test)]
mod tests;
