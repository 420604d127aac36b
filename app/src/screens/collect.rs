//! Collecting a ticket: everything on it, and what is due.

use leptos::prelude::*;

use super::job::use_subject;
use super::ticket::use_ticket;

/// The pairs of one ticket, each leading to its pickup.
#[component]
pub fn Collect() -> impl IntoView {
    let found = use_ticket(use_subject("ticket"));
    move || {
        let found = found.get()?;
        let day = found
            .as_ref()
            .and_then(|ticket| ticket.state().map(|state| state.text("day").to_owned()));
        let jobs = found.iter().flat_map(|ticket| &ticket.jobs);
        let links = jobs.map(|job| view! { <li><a href=format!("/pickup/{}", job.job)>"One pair"</a></li> });
        Some(view! { <h1>"Ticket"</h1> <p>{day}</p> <ul class="plain">{links.collect_view()}</ul> })
    }
}
