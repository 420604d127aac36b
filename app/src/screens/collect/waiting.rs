//! Pairs that are ready and have not been collected.

use leptos::prelude::*;
use shared::log::fold::Summary;
use shared::log::{SubjectId, UnixMs};

use super::notice::ready_notice;
use super::row;
use crate::device::DeviceError;
use crate::device::Phone;
use crate::screens::ticket::{TicketLife, of_ticket};
use crate::session::use_live_query;
use app_core::browser::clock::now;
use app_core::stations::ready_for;

/// Every ticket with a pair that is ready, the longest waiting first.
#[component]
pub fn Waiting() -> impl IntoView {
    let tickets = use_live_query(|phone| async move { ready(&phone).await });
    move || {
        let tickets = tickets.get()?;
        let none = tickets.is_empty();
        let all = tickets
            .iter()
            .map(|(since, ticket)| one(*since, ticket))
            .collect_view();
        Some(view! {
            <h1>{words::collect::ready_and_not_collected()}</h1>
            {all}
            {none.then(|| view! { <p>{words::collect::nothing_waits()}</p> })}
        })
    }
}

fn one(since: UnixMs, ticket: &TicketLife) -> AnyView {
    let waits = ready_for(since, now());
    let customer = ticket.jobs.first().map(|job| Summary::of(&job.life).customer);
    let here = ticket.jobs.iter().filter(|job| checked(job.state()).is_some());
    let rows = here.map(row).collect_view();
    let promised = ticket.promised();
    view! {
        <section class="card stack" aria-label=words::collect::waiting()>
            <h2><a href=format!("/ticket/{}", ticket.ticket)>{waits}</a>" "{customer}</h2>
            <p class="quiet">{words::collect::promised_for(&promised)}</p>
            <ul class="plain">{rows}</ul>
            {ready_notice(ticket)}
        </section>
    }
    .into_any()
}

/// When a job passed the final check, if it is still in the shop.
fn checked(job: Option<&shared::log::fold::JobState>) -> Option<UnixMs> {
    let job = job.filter(|job| job.handed_over.is_none())?;
    Some(job.checked.as_ref()?.current.at.utc)
}

/// The tickets with a pair that is ready, each with the time since when.
async fn ready(phone: &Phone) -> Result<Vec<(UnixMs, TicketLife)>, DeviceError> {
    let here = phone.in_shop().await?;
    let mut ids: Vec<SubjectId> = Vec::new();
    for job in here
        .iter()
        .flat_map(|pair| &pair.jobs)
        .filter(|job| job.open && job.ready_at.is_some())
    {
        ids.extend(job.ticket.filter(|ticket| !ids.contains(ticket)));
    }
    let mut found = Vec::with_capacity(ids.len());
    for id in ids {
        let Some(ticket) = of_ticket(phone, id).await? else {
            continue;
        };
        let since = ticket.jobs.iter().filter_map(|job| checked(job.state())).min();
        found.extend(since.map(|since| (since, ticket)));
    }
    found.sort_by_key(|(since, _)| *since);
    Ok(found)
}
