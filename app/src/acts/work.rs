//! At the bench: photographs, steps, corrections, hand-over.

use shared::log::body::{HandedOver, Photo, Retracted, Side, Step};
use shared::log::fold::{Item, State};
use shared::log::{Body, EntryId, Subject, SubjectId, SubjectKind};

use super::shop::set_value;
use crate::device::store::Draft;

fn job_subject(job: SubjectId) -> Subject {
    Subject::new(SubjectKind::Job, job)
}

fn on_job(job: SubjectId, body: Body) -> Draft {
    Draft::new(job_subject(job), body)
}

/// A photograph of a job.
pub fn photo(job: SubjectId, photo: Photo) -> Draft {
    on_job(job, Body::Photo(photo))
}

/// An operation done.
pub fn step(job: SubjectId, operation: &str, side: Side, note: &str) -> Draft {
    let step = Step {
        operation: operation.to_owned(),
        side,
        note: note.trim().to_owned(),
        minutes: None,
    };
    on_job(job, Body::Step(step))
}

/// Hides an entry of a subject; what it replaced shows again.
pub fn undo(subject: Subject, entry: EntryId) -> Draft {
    Draft::new(subject, Body::Retracted(Retracted { entry }))
}

/// Files a photograph under another job: hidden there, shown here, in one save.
pub fn move_photo(from: SubjectId, item: &Item<Photo>, to: SubjectId) -> Vec<Draft> {
    vec![undo(job_subject(from), item.entry), photo(to, item.body.clone())]
}

/// The pair leaves the shop.
pub fn hand_over(job: SubjectId) -> Draft {
    on_job(job, Body::HandedOver(HandedOver::default()))
}

/// Sets a plain field, replacing the values this device knows of. `None` when nothing would change.
pub fn set(subject: Subject, state: &State, field: &str, text: &str) -> Option<Draft> {
    let text = text.trim();
    if state.text(field) == text {
        return None;
    }
    set_value(subject, state, field, text.into())
}
