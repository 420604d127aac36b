//! Work at the bench: photographs, steps, waits, corrections.

use serde_json::Value;
use shared::log::body::OperationCode;
use shared::log::body::{
    Agreed, Erased, Measured, Order, Photo, PutBack, Redo, Retracted, Side, Skipped, Spent, Step, Wait,
    WaitOver, field,
};
use shared::log::fold::{Details, Item, JobLine, JobState, bench};
use shared::log::{Body, EntryId, Subject, SubjectId, SubjectKind};
use shared::week::RunJob;

use super::shop::set_value;
use crate::store::Saved;
use shared::log::Draft;

fn job_subject(job: SubjectId) -> Subject {
    Subject::new(SubjectKind::Job, job)
}

/// A draft about a job that replaces nothing.
pub(super) fn on_job(job: SubjectId, body: Body) -> Draft {
    Draft::new(job_subject(job), body)
}

/// A photograph of a job.
pub fn photo(job: SubjectId, photo: Photo) -> Draft {
    on_job(job, Body::Photo(photo))
}

/// An operation done on a shoe, for this agreed line if it is known.
fn step(job: SubjectId, operation: &str, side: Side, line: Option<EntryId>) -> Draft {
    let step = Step {
        operation: operation.into(),
        side,
        note: String::new(),
        minutes: None,
        used: Vec::new(),
        line,
        cement: None,
    };
    on_job(job, Body::Step(step))
}

/// An operation done, for its first line that is still open, on the shoe on which that line is agreed.
pub fn step_done(job: SubjectId, state: &JobState, operation: &str) -> Draft {
    let line = bench::line_of(state, operation);
    let side = line.map_or(Side::Both, |line| line.body.side.clone());
    step(job, operation, side, line.map(|line| line.entry))
}

/// The same, from the line that lists show of a job.
fn step_listed(job: &JobLine, operation: &str) -> Draft {
    let line = job.next_lines.get(operation);
    let side = line.map_or(Side::Both, |line| line.side.clone());
    step(job.id, operation, side, line.map(|line| line.entry))
}

/// The next operation of each of these jobs as a step. Jobs with nothing left are skipped.
pub fn next_steps<'a>(jobs: impl IntoIterator<Item = &'a JobLine>) -> Vec<Draft> {
    jobs.into_iter()
        .filter_map(|job| {
            let next = job.left.first()?;
            Some(step_listed(job, next))
        })
        .collect()
}

/// The steps of a run: the operation of each job or, where only a first part of it is done, the wait that follows. A final check is not
/// an operation.
pub fn run_done<'a>(run: impl IntoIterator<Item = (&'a RunJob, &'a JobLine)>) -> Vec<Draft> {
    let working = run
        .into_iter()
        .filter_map(|(one, job)| Some((one, one.operation.as_deref()?, job)));
    let drafts = working.flat_map(|(one, operation, job)| {
        let done = (!one.coat).then(|| step_listed(job, operation));
        let dries = (one.wait_min > 0)
            .then(|| wait(one.job, Wait::drying(one.wait_min, operation, one.dries.clone())));
        [done, dries]
    });
    drafts.flatten().collect()
}

/// Puts a job before all others, or ends that. `None` if nothing would change.
pub fn first(job: SubjectId, state: &JobState, first: bool) -> Option<Draft> {
    if state.is_first() == first {
        return None;
    }
    set_value(job_subject(job), &state.details, field::FIRST, Value::Bool(first))
}

/// Skips an operation: its first line that is still open.
pub fn skip(job: SubjectId, state: &JobState, operation: &str) -> Draft {
    let skipped = Skipped {
        line: bench::line_of(state, operation).map(|line| line.entry),
        operation: operation.into(),
        note: String::new(),
    };
    on_job(job, Body::Skipped(skipped))
}

/// Agrees on further work, as a line of its own.
pub fn agree(job: SubjectId, agreed: Agreed) -> Draft {
    on_job(job, Body::Agreed(agreed))
}

/// Marks a step as to be made again, with the material that was cut or used twice; empty if there was none.
pub fn redo(job: SubjectId, step: EntryId, scrap: &str) -> Draft {
    let scrap = scrap.trim().to_owned();
    on_job(job, Body::Redo(Redo { step, scrap }))
}

/// Moves the operation at `from` one place forward in the order. `None` if it is already the next one.
pub fn sooner(job: SubjectId, state: &JobState, from: usize) -> Option<Draft> {
    let mut operations: Vec<OperationCode> = bench::remaining(state)
        .into_iter()
        .map(OperationCode::from)
        .collect();
    let before = from.checked_sub(1).filter(|_| from < operations.len())?;
    operations.swap(before, from);
    let former = state
        .order
        .as_ref()
        .map(|slot| slot.entries())
        .unwrap_or_default();
    Some(on_job(job, Body::Order(Order { operations })).over(former))
}

/// Records afterwards what a step took.
pub fn spent(job: SubjectId, spent: Spent) -> Draft {
    on_job(job, Body::Spent(spent))
}

/// The earlier records of what a step took, which a new one names in `over`.
pub fn spent_before(state: &JobState, step: EntryId) -> Vec<EntryId> {
    let before = state.spent.iter().filter(|item| item.body.step == step);
    before.map(|item| item.entry).collect()
}

/// Begins a wait.
pub fn wait(job: SubjectId, wait: Wait) -> Draft {
    on_job(job, Body::Wait(wait))
}

/// Ends a wait.
pub fn wait_over(job: SubjectId, wait: EntryId) -> Draft {
    on_job(job, Body::WaitOver(WaitOver { wait }))
}

/// Puts a part back in its place.
pub fn put_back(job: SubjectId, out: EntryId) -> Draft {
    on_job(job, Body::PutBack(PutBack { out }))
}

/// Records the inputs and the answer of a helper. It replaces what the helper recorded before for the same operation
/// and, if named, the same part and shoe.
pub fn measured(job: SubjectId, state: &JobState, measured: Measured) -> Draft {
    let of = |one: &Measured| ["part", "side"].map(|name| one.given.get(name).cloned());
    let same = |item: &&Item<Measured>| {
        let told = &item.body;
        (&told.what, &told.operation, of(told)) == (&measured.what, &measured.operation, of(&measured))
    };
    let over = state
        .measured
        .iter()
        .filter(same)
        .map(|item| item.entry)
        .collect();
    on_job(job, Body::Measured(measured)).over(over)
}

/// Hides an entry of a subject; the entries it replaced show again.
pub fn undo(subject: Subject, entry: EntryId) -> Draft {
    Draft::new(subject, Body::Retracted(Retracted { entry }))
}

/// Hides all entries of one save.
pub fn undo_all(saved: &Saved) -> Vec<Draft> {
    let entries = saved.entries.iter().map(|held| &held.entry);
    entries
        .map(|entry| undo(entry.subject.clone(), entry.id))
        .collect()
}

/// Destroys a photograph for good, full picture and thumbnail, wherever this syncs.
pub fn destroy(job: SubjectId, full: &str, thumb: &str) -> Vec<Draft> {
    let erased = |hash: &str| {
        let blob = Some(hash.to_owned());
        on_job(job, Body::Erased(Erased { blob }))
    };
    // For a tiny picture, both can be the same blob.
    let small = (thumb != full).then(|| erased(thumb));
    std::iter::once(erased(full)).chain(small).collect()
}

/// Moves a photograph to another job: hides it in one and adds it to the other, in one save.
pub fn move_photo(from: SubjectId, item: &Item<Photo>, to: SubjectId) -> Vec<Draft> {
    vec![undo(job_subject(from), item.entry), photo(to, item.body.clone())]
}

/// The same for a photograph of a step, which becomes one of an operation of the other job.
pub fn move_step_photo(from: SubjectId, item: &Item<Photo>, to: &JobLine) -> Vec<Draft> {
    let mut item = item.clone();
    if let Some(operation) = &item.body.operation
        && !to.agreed.contains(operation)
    {
        item.body.operation = to.left.first().or(to.agreed.last()).cloned();
    }
    move_photo(from, &item, to.id)
}

/// Sets a plain field, replacing the values that this device knows. `None` if nothing would change.
pub fn set(subject: Subject, details: &Details, field: &str, text: &str) -> Option<Draft> {
    let text = text.trim();
    if details.text(field).unwrap_or_default() == text {
        return None;
    }
    set_value(subject, details, field, text.into())
}

#[cfg(test)]
mod tests;
