//! The notes on a job, each under what it is on.

use leptos::prelude::*;
use shared::log::fold::{JobState, PairHistory};
use shared::log::{EntryId, SubjectId};

use super::super::lines::Said;
use crate::parts::note_list;
use app_core::commands::notes::{on_entry, on_job_alone};

/// A list of lines, each with the entry that it tells of, and the notes on that entry below it; nothing when it is
/// empty.
pub(super) fn remarked(
    heading: &'static str,
    lines: Vec<(Said, EntryId)>,
    (id, job): (SubjectId, &JobState),
) -> Option<AnyView> {
    if lines.is_empty() {
        return None;
    }
    let items = lines.into_iter().map(|(said, entry)| {
        let notes = on_entry(job, entry).collect();
        let notes = note_list(notes, id, words::parts::notes_on(&said.text));
        view! { <li>{said.text}" "<span class="quiet">{said.quiet}</span>{notes}</li> }
    });
    let items = items.collect_view();
    Some(view! { <h3>{heading}</h3> <ul class="plain" aria-label=heading>{items}</ul> }.into_any())
}

/// The notes on the job as a whole, and those on its ticket.
pub(super) fn loose(id: SubjectId, job: &JobState, life: &PairHistory) -> impl IntoView + use<> {
    let own = note_list(on_job_alone(job).collect(), id, words::pair::notes().to_owned());
    let own = own.map(|notes| view! { <h3>{words::pair::notes()}</h3> {notes} });
    let heading = words::pair::notes_on_its_ticket();
    let ticket = job.ticket().and_then(|ticket| {
        let notes = life.ticket_of(job).into_iter().flat_map(|state| &state.notes);
        note_list(notes.collect(), ticket, heading.to_owned())
    });
    let ticket = ticket.map(|notes| view! { <h3>{heading}</h3> {notes} });
    view! { {own} {ticket} }
}
