//! A complaint: a pair comes back, and a new job repeats the earlier work at no charge.

use shared::log::body::OperationCode;
use shared::log::body::{Agreed, Cause, Complaint, Detail, Opened, Side, field};
use shared::log::fold::{Item, JobState, PairHistory, TicketState, bench};
use shared::log::{Body, EntryId, Subject, SubjectId, SubjectKind};
use shared::price::minor::Minor;
use shared::trade::{line_name, operations};

use shared::log::Draft;

/// What the customer said at the counter about work that failed.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct CameBack {
    /// The operation that failed; `None` until one is named.
    pub operation: Option<OperationCode>,
    /// The agreed line of that operation which is meant; `None` for the first one, and for work that was not agreed.
    pub line: Option<EntryId>,
    /// The cause, as far as it is known.
    pub cause: Option<Cause>,
    /// What the customer said.
    pub note: String,
    /// The promised day, `YYYY-MM-DD`; empty if none was promised.
    pub day: String,
}

/// Work of an earlier job about which the customer can complain.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct EarlierWork {
    /// The operation.
    pub operation: OperationCode,
    /// The agreed line; `None` for work that was done without being agreed.
    pub line: Option<EntryId>,
    /// The work in words: of a line its whole name.
    pub name: String,
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
    let mut lines = bench::agreed(state).filter(|line| line.body.operation == *operation);
    let line = lines.find(|line| said.line.is_none_or(|meant| line.entry == meant));
    let (step, side) = made_by(state, operation, line);
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

/// The last step that was done for a line of an operation, and its side; if no such step was noted, the agreed side.
fn made_by(job: &JobState, operation: &str, line: Option<&Item<Agreed>>) -> (Option<EntryId>, Side) {
    let agreed_side = line.map_or(Side::Both, |line| line.body.side.clone());
    let mut steps = job.steps.iter().rev();
    let made = steps.find_map(|step| {
        let body = &step.body;
        if body.operation != operation {
            return None;
        }
        match (bench::line_of_step(job, body), line) {
            (Some(of), Some(line)) if of.entry != line.entry => None,
            // A step of an older app, which names no line, counts for each line on its shoe.
            (None, Some(line)) if [&body.side, &line.body.side].contains(&&Side::Both) => {
                Some((step.entry, agreed_side.clone()))
            }
            (None, Some(line)) if body.side != line.body.side => None,
            _ => Some((step.entry, body.side.clone())),
        }
    });
    match made {
        Some((step, side)) => (Some(step), side),
        None => (None, agreed_side),
    }
}

/// The work of an earlier job about which the customer can complain: first what was done, then what was only agreed. Each
/// agreed line stands by itself.
pub fn complained_of(job: &JobState) -> Vec<EarlierWork> {
    let mut all: Vec<EarlierWork> = Vec::new();
    let mut add = |work: EarlierWork| {
        let is_known = |one: &EarlierWork| (&one.operation, one.line) == (&work.operation, work.line);
        if !all.iter().any(is_known) {
            all.push(work);
        }
    };
    for step in bench::done(job) {
        let operation = &step.body.operation;
        if let Some(line) = bench::line_of_step(job, &step.body) {
            add(agreed_work(line));
            continue;
        }
        let lines = || bench::agreed(job).filter(move |line| line.body.operation == *operation);
        lines().for_each(|line| add(agreed_work(line)));
        if lines().next().is_none() {
            add(EarlierWork {
                operation: operation.clone(),
                line: None,
                name: operations::name(operation).to_owned(),
            });
        }
    }
    bench::agreed(job).for_each(|line| add(agreed_work(line)));
    all
}

fn agreed_work(line: &Item<Agreed>) -> EarlierWork {
    EarlierWork {
        operation: line.body.operation.clone(),
        line: Some(line.entry),
        name: line_name(&line.body),
    }
}

#[cfg(test)]
mod tests;
