//! Printing the customer's stub and the pairs' tags. A shop can do without.

use leptos::prelude::*;
use shared::log::SubjectId;
use shared::log::body::Side;
use shared::log::fold::{JobState, bench, summary};
use shared::price::bill;
use shared::trade::line_name;

use super::collect::figures;
use super::job::{JobLife, use_subject};
use super::ticket::{TicketLife, use_ticket};
use crate::device::screen::print;
use crate::qr;
use crate::shop::{ShopContext, use_shop};
use app_core::commands::counted_goods;

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
    let title = if jobs.is_empty() {
        words::print::receipt()
    } else {
        words::print::stub_and_tags()
    };
    view! {
        <div class="row between no-print">
            <h1>{title}</h1>
            <span class="row">
                {camera.map(|href| view! { <a class="button" href=href>{words::print::photograph()}</a> })}
                <button on:click=move |_| print()>{words::print::print()}</button>
            </span>
        </div>
        <div class="sheet">{stub(ticket, shop)}{tags}</div>
    }
    .into_any()
}

/// The stub that the customer takes home; of a ticket without pairs the receipt.
fn stub(ticket: &TicketLife, shop: ShopContext) -> AnyView {
    let says = shop.state();
    let has_pairs = !ticket.jobs.is_empty();
    let pairs = has_pairs.then(|| {
        let pairs = ticket.jobs.iter().map(|job| pair(job, shop)).collect_view();
        view! { <table><caption>{words::print::left_with_us()}</caption><tbody>{pairs}</tbody></table> }
    });
    let ready = has_pairs.then(|| {
        view! { <p>{words::print::ready()}" "<strong>{ticket.promised()}</strong></p> }
    });
    let label = if has_pairs {
        words::print::stub()
    } else {
        words::print::receipt()
    };
    // Also on a device that shows a helper's screen: the customer's stub states its prices.
    let money = figures(&ticket.account(), None, shop);
    let shop_words = [says.name(), says.phone()].map(|line| line.unwrap_or_default().to_owned());
    view! {
        <article class="stub" aria-label=label>
            <header class="row between">
                <div>
                    {shop_words.map(|line| view! { <p><strong>{line}</strong></p> }).collect_view()}
                    {ready}
                </div>
                {code(ticket.ticket, words::print::code_of_the_ticket())}
            </header>
            {pairs}
            {goods(ticket, shop)}
            {money}
            <p class="terms">{says.terms().unwrap_or_default().to_owned()}</p>
        </article>
    }
    .into_any()
}

/// The goods sold over the counter; nothing if there are none.
fn goods(ticket: &TicketLife, shop: ShopContext) -> AnyView {
    let sold = ticket.state().map_or(&[][..], |state| state.sold.as_slice());
    let rows = sold.iter().map(|item| {
        let name = counted_goods(&item.body.what, item.body.count);
        let price = shop.money(bill::goods(&item.body));
        view! { <tr><td>{name}</td><td class="amount">{price}</td></tr> }
    });
    let rows = (!sold.is_empty()).then(|| rows.collect_view());
    rows.map(|rows| view! { <table><caption>{words::print::bought()}</caption><tbody>{rows}</tbody></table> })
        .into_any()
}

fn pair(job: &JobLife, shop: ShopContext) -> AnyView {
    let state = job.state().cloned().unwrap_or_default();
    let title = summary::title(&job.life.pair);
    let work: Vec<_> = bench::agreed(&state).map(|line| line_name(&line.body)).collect();
    let price = shop.money(bill::price(&state));
    view! {
        <tr>
            <th scope="row">{state.tag().unwrap_or_default().to_owned()}</th>
            <td>{title}<br/>{work.join("; ")}</td>
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
    let work: Vec<_> = bench::open_lines_in_order(&state)
        .map(|line| line_name(&line.body))
        .collect();
    view! {
        <article class="hang-tag" aria-label=label>
            {code(job.life.id, words::print::code_of_the_pair())}
            <p class="number">{number}</p>
            {one_shoe(&state).map(|shoe| view! { <p><strong>{shoe}</strong></p> })}
            <p>{day}</p>
            <p>{work.join("; ")}</p>
        </article>
    }
    .into_any()
}

/// The shoe on which all the agreed work is; `None` if some of it is on the other, or on both.
fn one_shoe(state: &JobState) -> Option<&'static str> {
    let mut sides = bench::agreed(state).map(|line| &line.body.side);
    let first = sides.next()?;
    match first {
        Side::Left if sides.all(|side| side == first) => Some(words::print::left_shoe()),
        Side::Right if sides.all(|side| side == first) => Some(words::print::right_shoe()),
        _ => None,
    }
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
