//! The ticket named in an address, with the pair histories of its jobs, or without any after a sale of goods alone.

mod notes;

use leptos::prelude::*;
use shared::log::body::Body;
use shared::log::fold::{CustomerState, Summary, TicketState};
use shared::log::{ReceivedEntry, Subject, SubjectId, SubjectKind};

use super::job::{JobLife, of_job};
use crate::device::DeviceError;
use crate::device::Phone;
use crate::parts::{day_words, promised};
use crate::session::{LiveQuery, use_live_query};

pub(super) use notes::ticket_notes;

/// A ticket and its jobs, in the order they were taken in.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct TicketLife {
    pub(super) ticket: SubjectId,
    pub(super) jobs: Vec<JobLife>,
    /// What is known of a ticket without jobs.
    alone: Option<TicketAlone>,
}

/// A ticket without jobs: goods were sold over the counter.
#[derive(Debug, Clone, PartialEq)]
struct TicketAlone {
    state: TicketState,
    customer: CustomerState,
}

impl TicketLife {
    /// The state of the ticket.
    pub(super) fn state(&self) -> Option<&TicketState> {
        match self.jobs.first() {
            Some(job) => job.life.tickets.get(&self.ticket),
            None => self.alone.as_ref().map(|alone| &alone.state),
        }
    }

    /// The customer's name and telephone number, as far as they are known.
    pub(super) fn customer(&self) -> String {
        let (name, phone) = match (self.jobs.first(), &self.alone) {
            (Some(job), _) => {
                let summary = Summary::of(&job.life);
                (summary.customer, summary.phone)
            }
            (None, Some(TicketAlone { customer, .. })) => {
                let said = [customer.name(), customer.phone()].map(Option::unwrap_or_default);
                said.map(str::to_owned).into()
            }
            (None, None) => return String::new(),
        };
        [name, phone].join(" ")
    }

    /// The day promised, and from what time, in words; empty if none was promised.
    pub(super) fn promised(&self) -> String {
        let (day, from) = self
            .state()
            .map_or((None, None), |state| (state.day(), state.ready_from()));
        promised(&day_words(day.unwrap_or_default()), from)
    }
}

/// A ticket and its jobs, as a live query. `Some(None)`: there is no such ticket on this device.
pub(super) fn use_ticket(id: Signal<Option<SubjectId>>) -> LiveQuery<Option<TicketLife>> {
    use_live_query(move |phone| {
        let id = id.get();
        async move {
            match id {
                Some(ticket) => of_ticket(&phone, ticket).await,
                None => Ok(None),
            }
        }
    })
}

/// Finds the jobs of a ticket, and reads the pair history of each.
pub(super) async fn of_ticket(phone: &Phone, ticket: SubjectId) -> Result<Option<TicketLife>, DeviceError> {
    let about = phone.entries_about(ticket).await?;
    let mut ids: Vec<SubjectId> = Vec::new();
    for held in about
        .iter()
        .filter(|held| held.entry.subject.kind == SubjectKind::Job)
    {
        let here = matches!(Body::of(&held.entry), Body::Opened(opened) if opened.ticket == Some(ticket));
        if here && !ids.contains(&held.entry.subject.id) {
            ids.push(held.entry.subject.id);
        }
    }
    let mut jobs = Vec::with_capacity(ids.len());
    for id in ids {
        jobs.extend(of_job(phone, id).await?);
    }
    let alone = if jobs.is_empty() {
        alone(phone, ticket, &about).await?
    } else {
        None
    };
    let is_known = !jobs.is_empty() || alone.is_some();
    Ok(is_known.then_some(TicketLife { ticket, jobs, alone }))
}

/// Reads a ticket without jobs from the entries about it; `None` if nobody has opened it.
async fn alone(
    phone: &Phone,
    ticket: SubjectId,
    about: &[ReceivedEntry],
) -> Result<Option<TicketAlone>, DeviceError> {
    let subject = Subject::new(SubjectKind::Ticket, ticket);
    let state = TicketState::of(about.iter().filter(|held| held.entry.subject == subject));
    if state.opened.is_none() {
        return Ok(None);
    }
    let customer = match state.customer() {
        Some(customer) => {
            let about = phone.entries_about(customer).await?;
            CustomerState::of(about.iter().filter(|held| held.entry.subject.id == customer))
        }
        None => CustomerState::default(),
    };
    Ok(Some(TicketAlone { state, customer }))
}
