//! The ticket named in an address, with the pair histories of its jobs.

use leptos::prelude::*;
use shared::log::body::Body;
use shared::log::fold::TicketState;
use shared::log::{SubjectId, SubjectKind};

use super::job::{JobLife, of_job};
use crate::device::DeviceError;
use crate::device::Phone;
use crate::parts::{day_words, promised};
use crate::session::{LiveQuery, use_live_query};

/// A ticket and its jobs, in the order they were taken in.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct TicketLife {
    pub(super) ticket: SubjectId,
    pub(super) jobs: Vec<JobLife>,
}

impl TicketLife {
    /// The state of the ticket.
    pub(super) fn state(&self) -> Option<&TicketState> {
        self.jobs.first()?.life.tickets.get(&self.ticket)
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
    Ok((!jobs.is_empty()).then_some(TicketLife { ticket, jobs }))
}
