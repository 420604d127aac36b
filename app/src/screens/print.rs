//! Printing the customer's stub and the pairs' tags. A shop can do without.

use leptos::prelude::*;
use shared::log::SubjectId;
use shared::log::fold::{bench, summary};
use shared::price::bill;
use shared::trade::operations;

use super::collect::figures;
use super::job::{JobLife, use_subject};
use super::ticket::{TicketLife, use_ticket};
use crate::device::screen::print;
use crate::qr;
use crate::shop::{ShopContext, use_shop};

/// A ticket's stub and tags, to be printed and cut.
#[component]
pub fn Print() -> impl IntoView {
    let found = use_ticket(use_subject("ticket"));
    let shop = use_shop();
    move || match found.get()? {
        None => Some(view! { <h1>{words::print::no_such_ticket()}</h1> }.into_any()),
        Some(ticket) => Some(sheet(&ticket, shop)),
    }
}

fn sheet(ticket: &TicketLife, shop: ShopContext) -> AnyView {
    let jobs: Vec<_> = ticket.jobs.iter().map(|job| job.job.to_string()).collect();
    let camera = jobs
        .first()
        .map(|first| format!("/camera/{first}?shows=drop_off&run={}", jobs.join(",")));
    let tags = ticket.jobs.iter().map(|job| tag(job, ticket)).collect_view();
    view! {
        <div class="row between no-print">
            <h1>{words::print::stub_and_tags()}</h1>
            <span class="row">
                <a class="button" href=camera>{words::print::photograph()}</a>
                <button on:click=move |_| print()>{words::print::print()}</button>
            </span>
        </div>
        <div class="sheet">{stub(ticket, shop)}{tags}</div>
    }
    .into_any()
}

/// The stub that the customer takes home.
fn stub(ticket: &TicketLife, shop: ShopContext) -> AnyView {
    let says = shop.state();
    let pairs = ticket.jobs.iter().map(|job| pair(job, shop)).collect_view();
    // Also on a device that shows a helper's screen: the customer's stub states its prices.
    let money = figures(&ticket.account(), None, shop);
    let shop_words = [says.name(), says.phone()].map(|line| line.unwrap_or_default().to_owned());
    view! {
        <article class="stub" aria-label=words::print::stub()>
            <header class="row between">
                <div>
                    {shop_words.map(|line| view! { <p><strong>{line}</strong></p> }).collect_view()}
                    <p>{words::print::ready()}" "<strong>{ticket.promised()}</strong></p>
                </div>
                {code(ticket.ticket, words::print::code_of_the_ticket())}
            </header>
            <table>
                <caption>{words::print::left_with_us()}</caption>
                <tbody>{pairs}</tbody>
            </table>
            {money}
            <p class="terms">{says.terms().unwrap_or_default().to_owned()}</p>
        </article>
    }
    .into_any()
}

fn pair(job: &JobLife, shop: ShopContext) -> AnyView {
    let state = job.state().cloned().unwrap_or_default();
    let title = summary::title(&job.life.pair);
    let work = bench::agreed(&state).map(|line| operations::name(&line.body.operation).to_owned());
    let work: Vec<_> = work.collect();
    let price = shop.money(bill::price(&state));
    view! {
        <tr>
            <th scope="row">{state.tag().unwrap_or_default().to_owned()}</th>
            <td>{title}<br/>{work.join(", ")}</td>
            <td class="amount">{price}</td>
        </tr>
    }
    .into_any()
}

/// The tag of a pair.
fn tag(job: &JobLife, ticket: &TicketLife) -> AnyView {
    let state = job.state().cloned().unwrap_or_default();
    let number = state.tag().unwrap_or_default().to_owned();
    let label = words::print::tag(&number);
    let day = ticket.promised();
    let work: Vec<_> = bench::remaining(&state)
        .into_iter()
        .map(operations::name)
        .collect();
    view! {
        <article class="hang-tag" aria-label=label>
            {code(job.life.id, words::print::code_of_the_pair())}
            <p class="number">{number}</p>
            <p>{day}</p>
            <p>{work.join(", ")}</p>
        </article>
    }
    .into_any()
}

/// The id as a QR code. It does not contain the number, because numbers are for people and may occur twice.
fn code(id: SubjectId, label: &'static str) -> Option<AnyView> {
    qr::draw(&id.to_string()).map(|drawn| {
        let side = drawn.side;
        view! {
            <svg class="qr" role="img" aria-label=label viewBox=format!("0 0 {side} {side}") shape-rendering="crispEdges">
                <path d=drawn.path/>
            </svg>
        }
        .into_any()
    })
}
