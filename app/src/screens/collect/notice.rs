//! Telling the customer that what they left is ready.

use leptos::prelude::*;
use leptos::task::spawn_local;
use shared::log::fold::{Summary, bench, summary};
use shared::price::pickup::{PaidTogether, is_ready};
use shared::text::unless_empty;
use shared::trade::line_name;

use crate::device::share::{self, Passed};
use crate::screens::job::JobLife;
use crate::screens::ticket::TicketLife;
use crate::session::use_session;
use crate::shop::use_shop;
use app_core::commands;

/// A text that tells the customer which pairs of the ticket are ready, to be shared. Nothing if none is.
pub fn ready_notice(ticket: &TicketLife) -> AnyView {
    let (session, shop) = (use_session(), use_shop());
    let here = |job: &&JobLife| job.state().is_some_and(|state| state.handed_over.is_none());
    let (ready, rest): (Vec<_>, Vec<_>) = ticket
        .jobs
        .iter()
        .filter(here)
        .partition(|job| job.state().is_some_and(is_ready));
    if ready.is_empty() {
        return ().into_any();
    }
    let pairs: Vec<String> = ready.iter().map(|job| known_as(job)).collect();
    // What can be collected now is due now; the rest is due when it is ready.
    let due = ticket.account().due(PaidTogether::Ready);
    let due = Some(due).filter(|due| due.is_positive() && !shop.helper());
    let due = due.map(|due| shop.money(due));
    let text = commands::ready_notice(&pairs, due.as_deref(), &shop.state());
    let phone = ready.first().map(|job| Summary::of(&job.life).phone);
    let call = phone.and_then(unless_empty).map(|phone| {
        view! { <a class="button quiet" href=["tel:", &phone].concat()>{words::pair::call(&phone)}</a> }
    });
    let rest = (!rest.is_empty()).then(|| words::collect::pairs_not_ready_yet(rest.len()));
    let said = text.clone();
    let pass_on = move |_| {
        let text = text.clone();
        spawn_local(async move {
            match share::share_text(&text).await {
                Ok(Passed::Copied) => session.tell(words::collect::notice_copied()),
                Ok(_) => {}
                Err(error) => session.complain(error),
            }
        });
    };
    Some(view! {
        <section class="card stack" aria-label=words::collect::tell_the_customer()>
            <p>{said}</p>
            {rest.map(|rest| view! { <p class="quiet">{rest}</p> })}
            <div class="row"><button on:click=pass_on>{words::collect::ready_notice()}</button>{call}</div>
        </section>
    })
    .into_any()
}

/// How its owner knows a pair: its description, and its number on the stub.
fn known_as(job: &JobLife) -> String {
    let title = summary::title(&job.life.pair);
    let state = job.state();
    let tag = state.and_then(|state| state.tag()).unwrap_or_default();
    // Without either, the work tells it from the others.
    let work = || state.and_then(|state| bench::agreed(state).next());
    match (title.is_empty(), tag.is_empty()) {
        (false, false) => words::collect::pair_with_number(&title, tag),
        (false, true) => title,
        (true, false) => tag.to_owned(),
        (true, true) => work().map_or_else(String::new, |line| line_name(&line.body)),
    }
}
