//! Collecting: a ticket as a whole, and the list of what waits to be collected.

mod account;
mod day;
mod figures;
mod goods;
mod notice;
mod waiting;

use leptos::prelude::*;
use shared::log::fold::{Summary, TicketState};
use shared::price::pickup::TicketAccount;

use super::job::{JobLife, use_subject};
use super::pair::export::Export;
use super::pair::forget::Forget;
use super::ticket::{TicketLife, ticket_notes, use_ticket};
use crate::parts::{BackLink, Face, UnfoldedNote};
use crate::selection::use_selection;
use crate::session::use_session;
use crate::shop::use_shop;
use app_core::commands::{self, Leaves};
use shared::log::{Draft, Subject, SubjectKind};

pub(super) use account::{account, paid_words};
pub(super) use figures::figures;
use goods::Selling;
pub(super) use notice::ready_notice;
pub use waiting::Waiting;

impl TicketLife {
    /// Its amounts, the same wherever one of them is named.
    pub(super) fn account(&self) -> TicketAccount {
        let unknown = TicketState::default();
        let jobs = self.jobs.iter().filter_map(|job| Some((job.job, job.state()?)));
        TicketAccount::of(self.state().unwrap_or(&unknown), jobs)
    }
}

/// The pairs and goods of one ticket, what is due, and handing over those that are ready.
#[component]
pub fn Collect() -> impl IntoView {
    UnfoldedNote::provide();
    let found = use_ticket(use_subject("ticket"));
    let selling = Selling::new();
    move || match found.get()? {
        None => Some(
            view! { <h1>{words::collect::ticket()}</h1> <p>{words::collect::no_such_ticket()}</p> }
                .into_any(),
        ),
        Some(ticket) => Some(one(&ticket, selling).into_any()),
    }
}

fn one(ticket: &TicketLife, selling: Selling) -> AnyView {
    let shop = use_shop();
    let has_pairs = !ticket.jobs.is_empty();
    let day = has_pairs.then(|| words::collect::promised_day(&ticket.promised()));
    let paper = if has_pairs {
        words::collect::stub_and_tags()
    } else {
        words::print::receipt()
    };
    let rows = ticket.jobs.iter().map(row).collect_view();
    let money = (!shop.helper()).then(|| account(ticket, None));
    // Who brought a pair is reached from the page of the pair.
    let buyer = ticket
        .state()
        .and_then(TicketState::customer)
        .filter(|_| !has_pairs);
    view! {
        <BackLink/>
        <h1>{words::collect::ticket()}</h1>
        <p>{ticket.customer()}<br/><span class="quiet">{day}</span></p>
        <ul class="pairs">{rows}</ul>
        {has_pairs.then(|| day::another(ticket))}
        {goods::goods(ticket, selling)}
        {ready_notice(ticket)}
        {money}
        {all_ready(ticket)}
        {ticket_notes(ticket)}
        <p class="row"><a class="button quiet" href=format!("/print/{}", ticket.ticket)>{paper}</a></p>
        <Export customer=buyer/>
        {buyer.map(|buyer| view! { <Forget customers=vec![Subject::new(SubjectKind::Customer, buyer)] jobs=Vec::new()/> })}
    }
    .into_any()
}

/// A pair of the ticket, linking to its pickup screen.
fn row(job: &JobLife) -> AnyView {
    let Summary { title, face, .. } = Summary::of(&job.life);
    let state = job.state().cloned().unwrap_or_default();
    let stands = match (&state.handed_over, &state.checked) {
        (Some(_), _) => words::collect::has_left_the_shop().to_owned(),
        (None, Some(_)) => ready(state.shelf().unwrap_or_default()),
        (None, None) => words::collect::not_checked_yet().to_owned(),
    };
    view! {
        <li class="pair-row">
            <a href=format!("/pickup/{}", job.job)>
                <Face of=face on=Some(job.job) alt=""/>
                <span class="who">
                    <strong class="tag">{state.tag().unwrap_or_default().to_owned()}</strong>
                    <span>{title}</span>
                    <span class="quiet">{stands}</span>
                </span>
            </a>
        </li>
    }
    .into_any()
}

/// That a pair is ready, and on which shelf if one is noted.
fn ready(shelf: &str) -> String {
    match shelf {
        "" => words::collect::ready().to_owned(),
        shelf => words::collect::ready_on_shelf(shelf),
    }
}

/// A button that hands over every pair that is checked and still in the shop.
fn all_ready(ticket: &TicketLife) -> AnyView {
    let (session, bench) = (use_session(), use_selection());
    let ready: Vec<Draft> = ticket
        .jobs
        .iter()
        .filter_map(|job| {
            let state = job.state().filter(|state| state.handed_over.is_none())?;
            commands::hand_over(job.job, state, Leaves::Finished).ok()
        })
        .collect();
    if ready.is_empty() {
        return ().into_any();
    }
    let label = words::collect::hand_over_ready(ready.len());
    let jobs: Vec<_> = ready.iter().map(|draft| draft.subject.id).collect();
    let go = move |_| {
        let jobs = jobs.clone();
        session.save_and(ready.clone(), move |_| {
            bench.forget(&jobs);
            session.tell(words::pickup::handed_over());
        });
    };
    Some(view! { <button class="bench" on:click=go>{label}</button> }).into_any()
}
