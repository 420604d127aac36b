//! Pickup: the final check of a pair, its care card, and handing it over.

mod card;
mod check;
mod choices;
mod leave;
mod link;
mod notes;
mod preview;

use leptos::prelude::*;
use shared::log::SubjectId;
use shared::log::fold::Summary;

use super::collect::{account, ready_notice};
use super::job::{JobLife, of_job, pair_head, use_subject};
use super::ticket::{TicketLife, of_ticket};
use super::with_it::with_it;
use crate::device::DeviceError;
use crate::device::Phone;
use crate::session::{use_kept, use_live_query};
use crate::shop::use_shop;
use app_core::commands::AtPickup;
use card::care_card;
use check::final_check;
use leave::leave;
use link::card_link;
use preview::{photos_of, preview, use_previews};

/// The ids of the sections of the page.
const CHECK: &str = "final-check";
const CARD: &str = "on-the-card";
const MONEY: &str = "money";
const LEAVE: &str = "leave";

/// One pair: checking it, giving it a card, handing it over.
#[component]
pub fn Pickup() -> impl IntoView {
    // Another job in the address gets a new form: ticks belong to one pair.
    let asked = use_subject("job");
    let job = Memo::new(move |_| asked.get());
    move || match job.get() {
        Some(job) => view! { <OneJob job/> }.into_any(),
        None => nowhere().into_any(),
    }
}

fn nowhere() -> AnyView {
    view! { <h1>{words::pickup::pickup()}</h1> <p>{words::pickup::no_such_job()}</p> }.into_any()
}

/// A job at pickup, with its ticket if it has one.
#[derive(Debug, Clone, PartialEq)]
struct AtCounter {
    found: JobLife,
    ticket: Option<TicketLife>,
}

async fn at_counter(phone: &Phone, job: SubjectId) -> Result<Option<AtCounter>, DeviceError> {
    let Some(found) = of_job(phone, job).await? else {
        return Ok(None);
    };
    let opened = found.state().and_then(|job| job.opened.as_ref());
    let ticket = match opened.and_then(|slot| slot.current.body.ticket) {
        Some(ticket) => of_ticket(phone, ticket).await?,
        None => None,
    };
    Ok(Some(AtCounter { found, ticket }))
}

#[component]
fn OneJob(job: SubjectId) -> impl IntoView {
    let shop = use_shop();
    let chosen = use_kept::<AtPickup>(format!("pickup/{job}"));
    let base = use_live_query(|phone| async move { Ok(phone.membership().await?) });
    let here = use_live_query(move |phone| async move { at_counter(&phone, job).await });
    let photos = Memo::new(move |_| {
        here.get()
            .flatten()
            .map(|here| photos_of(&here.found))
            .unwrap_or_default()
    });
    let shown = use_previews(job, photos);
    move || {
        let Some(AtCounter { found, ticket }) = here.get()? else {
            return Some(nowhere().into_any());
        };
        let ticket = ticket.as_ref();
        let money = ticket.filter(|_| !shop.helper());
        let money = money.map(|ticket| account(ticket, Some(&found)));
        let jumps = jumps(money.is_some());
        let ready = found.state().is_some_and(|job| job.checked.is_some());
        let notice = ticket.filter(|_| ready).map(ready_notice);
        let page = view! {
            <div class="pickup">
                {pair_head(words::pickup::pickup(), &found)}
                {found.state().map(|job| with_it(job, &found.life))}
                {ways(&found, ticket)}
                <div id=CHECK>{final_check(&found, chosen)}</div>
                {notice}
                <div id=CARD>{care_card(&found, chosen)}</div>
                {card_link(&found, base)}
                <div id=MONEY>{money}</div>
                <div id=LEAVE>{leave(&found, ticket)}</div>
                // Last, because its pictures load later, and nothing else may move then.
                {preview(&found, chosen, shown)}
                {jumps}
            </div>
        };
        Some(page.into_any())
    }
}

/// Links to the sections of the page, at the lower edge.
fn jumps(money: bool) -> impl IntoView {
    let places = [
        (CHECK, words::pickup::to_check(), true),
        (CARD, words::pickup::to_card(), true),
        (MONEY, words::pickup::to_money(), money),
        (LEAVE, words::pickup::to_handing_over(), true),
    ];
    let links = places
        .into_iter()
        .filter(|(.., shown)| *shown)
        .map(|(id, words, _)| {
            view! { <a class="button bench quiet" href=["#", id].concat()>{words}</a> }
        });
    view! { <nav class="work-bar ways" aria-label=words::pickup::on_this_page()>{links.collect_view()}</nav> }
}

/// Links to the rest of the ticket, and to the owner's telephone.
fn ways(found: &JobLife, ticket: Option<&TicketLife>) -> AnyView {
    let phone = Summary::of(&found.life).phone;
    let whole = ticket.map(|ticket| {
        let pairs = words::pickup::its_ticket(ticket.jobs.len());
        view! { <a class="button quiet" href=format!("/ticket/{}", ticket.ticket)>{pairs}</a> }
    });
    let call = (!phone.is_empty()).then(|| {
        view! { <a class="button quiet" href=["tel:", &phone].concat()>{words::pair::call(&phone)}</a> }
    });
    view! { <p class="row">{whole}{call}</p> }.into_any()
}
