//! A complaint: a pair comes back, and a new job repeats the earlier work at no charge.

use shared::log::body::OperationCode;
use shared::log::body::{Agreed, Cause, Complaint, Detail, Opened, Side, field};
use shared::log::fold::{JobState, PairHistory, TicketState, bench};
use shared::log::{Body, EntryId, Subject, SubjectId, SubjectKind};
use shared::price::minor::Minor;

use shared::log::Draft;

/// What the customer said at the counter about work that failed.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct CameBack {
    /// The operation that failed; `None` until one is named.
    pub operation: Option<OperationCode>,
    /// The cause, as far as it is known.
    pub cause: Option<Cause>,
    /// What the customer said.
    pub note: String,
    /// The promised day, `YYYY-MM-DD`; empty if none was promised.
    pub day: String,
}

/// The subjects that [`take_back_in`] opened.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct TakenBackIn {
    /// The new ticket.
    pub ticket: SubjectId,
    /// The new job.
    pub job: SubjectId,
}

/// Takes the pair of an earlier job in again, on a new ticket: one line at no charge that names the work it repeats.
/// `new_id` returns new subject ids. `None` if no operation is named, or the job does not exist.
pub fn take_back_in(
    history: &PairHistory,
    earlier: SubjectId,
    said: &CameBack,
    mut new_id: impl FnMut() -> SubjectId,
) -> Option<(TakenBackIn, Vec<Draft>)> {
    let state = history.jobs.get(&earlier)?;
    let operation = said.operation.as_ref()?;
    let taken = TakenBackIn {
        ticket: new_id(),
        job: new_id(),
    };
    let ticket = Subject::new(SubjectKind::Ticket, taken.ticket);
    let job = Subject::new(SubjectKind::Job, taken.job);
    let on_ticket = |body| Draft::new(ticket.clone(), body);
    let on_job = |body| Draft::new(job.clone(), body);
    let (step, side) = made_by(state, operation);
    let line = bench::agreed(state).find(|line| line.body.operation == *operation);
    let mut drafts = vec![on_ticket(Body::Opened(Opened {
        customer: customer(history, state),
        ..Opened::default()
    }))];
    if !said.day.is_empty() {
        drafts.push(on_ticket(Body::Detail(Detail {
            field: field::DAY.to_owned(),
            value: said.day.as_str().into(),
        })));
    }
    drafts.extend([
        on_job(Body::Opened(Opened {
            pair: Some(history.id),
            ticket: Some(taken.ticket),
            customer: None,
        })),
        on_job(Body::Complaint(Complaint {
            job: earlier,
            step,
            operation: operation.clone(),
            cause: said.cause.clone(),
            note: said.note.trim().to_owned(),
        })),
        on_job(Body::Agreed(Agreed {
            side,
            variant: line.and_then(|line| line.body.variant.clone()),
            count: line.and_then(|line| line.body.count),
            ..Agreed::at(operation, Minor::ZERO)
        })),
        Draft::next_tag(job.clone()),
    ]);
    Some((taken, drafts))
}

/// Sets the cause of a complaint, or opens it again with `None`. `None` if the job is no complaint, or nothing would
/// change.
pub fn set_cause(job: SubjectId, state: &JobState, cause: Option<Cause>) -> Option<Draft> {
    let slot = state.complaint.as_ref()?;
    let complaint = Complaint {
        cause,
        ..slot.current.body.clone()
    };
    let changes = complaint != slot.current.body || !slot.rivals.is_empty();
    let subject = Subject::new(SubjectKind::Job, job);
    changes.then(|| Draft::new(subject, Body::Complaint(complaint)).over(slot.entries()))
}

/// A cause in words; one of a newer app as it is written.
pub fn cause_words(cause: &Cause) -> &str {
    match cause {
        Cause::OurWork => words::complaint::cause_our_work(),
        Cause::Material => words::complaint::cause_material(),
        Cause::Bond => words::complaint::cause_bond(),
        Cause::Seam => words::complaint::cause_seam(),
        Cause::Fit => words::complaint::cause_fit(),
        Cause::Colour => words::complaint::cause_colour(),
        Cause::NotAsAgreed => words::complaint::cause_not_as_agreed(),
        Cause::HiddenDamage => words::complaint::cause_hidden_damage(),
        Cause::Use => words::complaint::cause_use(),
        Cause::Wear => words::complaint::cause_wear(),
        Cause::Elsewhere => words::complaint::cause_elsewhere(),
        Cause::Other(word) => word,
    }
}

/// The customer of the earlier job's ticket, otherwise the pair's own.
fn customer(history: &PairHistory, job: &JobState) -> Option<SubjectId> {
    let of_ticket = history.ticket_of(job).and_then(TicketState::customer);
    of_ticket.or_else(|| history.pair.customer())
}

/// The last step of an operation, and its side; if no step was noted, the agreed side.
fn made_by(job: &JobState, operation: &str) -> (Option<EntryId>, Side) {
    let step = job
        .steps
        .iter()
        .rev()
        .find(|step| step.body.operation == operation);
    if let Some(step) = step {
        return (Some(step.entry), step.body.side.clone());
    }
    let line = bench::agreed(job).find(|line| line.body.operation == operation);
    (None, line.map_or(Side::Both, |line| line.body.side.clone()))
}

/// The operations of an earlier job about which the customer can complain: first those that were done, then those only
/// agreed.
pub fn complained_of(job: &JobState) -> Vec<&str> {
    let steps = bench::done(job).map(|step| step.body.operation.as_str());
    let agreed = bench::agreed(job).map(|line| line.body.operation.as_str());
    let mut once = Vec::new();
    for code in steps.chain(agreed) {
        if !once.contains(&code) {
            once.push(code);
        }
    }
    once
}

#[cfg(test)]
mod tests;
