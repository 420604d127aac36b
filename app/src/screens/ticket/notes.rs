//! The notes on a ticket.

use leptos::prelude::*;

use super::TicketLife;
use crate::parts::{AddNote, note_list};
use app_core::commands::notes::NoteTarget;

/// The notes so far, and a form for the next one.
pub(in crate::screens) fn ticket_notes(ticket: &TicketLife) -> AnyView {
    let notes = ticket.state().into_iter().flat_map(|state| &state.notes);
    let notes = note_list(notes.collect(), ticket.ticket, words::work::notes().to_owned());
    view! {
        <section class="card" aria-label=words::work::notes()>
            <h2>{words::work::notes()}</h2>
            {notes}
            <AddNote on=NoteTarget::ticket(ticket.ticket) about=words::parts::this_ticket()/>
        </section>
    }
    .into_any()
}
