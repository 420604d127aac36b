//! Handing the pair over.

use leptos::prelude::*;
use shared::log::fold::bench;
use shared::log::{Subject, SubjectId, SubjectKind};
use shared::price::minor::Minor;

use crate::parts::on_day;
use crate::screens::job::JobLife;
use crate::screens::ticket::TicketLife;
use crate::selection::use_selection;
use crate::session::use_session;
use crate::shop::use_shop;
use app_core::commands::{self, Leaves};

/// Buttons to hand it over, finished or unrepaired, and what speaks against it.
pub(super) fn leave(found: &JobLife, ticket: Option<&TicketLife>) -> AnyView {
    let state = found.state().cloned().unwrap_or_default();
    if let Some(over) = state.handed_over.as_ref().map(|slot| &slot.current) {
        return left(found.job, over.entry, on_day(over.at.utc)).into_any();
    }
    let shop = use_shop();
    let due = ticket
        .map(|ticket| ticket.bill().left())
        .filter(Minor::is_positive);
    let due = due.map(|due| {
        // A helper may know that something is due, but not how much.
        let words = match shop.helper() {
            true => "Something is still due on the ticket: ask a repairer.".to_owned(),
            false => ["Still due on the ticket: ", &shop.money(due)].concat(),
        };
        view! { <p><strong>{words}</strong></p> }
    });
    let ways = if bench::goes_back_unrepaired(&state) {
        [Leaves::Unrepaired, Leaves::Finished]
    } else {
        [Leaves::Finished, Leaves::Unrepaired]
    };
    view! {
        <section class="card stack" aria-label="Hand over">
            {due}
            {hand_over(found.job, state, ways)}
        </section>
    }
    .into_any()
}

/// The likely way of leaving first and large, the other one beside it.
fn hand_over(job: SubjectId, state: shared::log::fold::JobState, ways: [Leaves; 2]) -> AnyView {
    let (session, bench) = (use_session(), use_selection());
    let why = RwSignal::new(String::new());
    let state = StoredValue::new(state);
    let go = move |way| match state.with_value(|state| commands::hand_over(job, state, way)) {
        Ok(draft) => session.save_and(vec![draft], move |_| {
            bench.forget(&[job]);
            session.tell("Handed over.");
        }),
        Err(missing) => why.set(missing.to_string()),
    };
    let [first, second] = ways;
    view! {
        <p class="bad" role="alert">{move || why.get()}</p>
        <button class="bench" on:click=move |_| go(first)>{words(first)}</button>
        <button class="quiet" on:click=move |_| go(second)>{words(second)}</button>
    }
    .into_any()
}

fn words(way: Leaves) -> &'static str {
    match way {
        Leaves::Finished => "Hand over",
        Leaves::Unrepaired => "Give back unrepaired",
    }
}

fn left(job: SubjectId, entry: shared::log::EntryId, when: String) -> AnyView {
    let session = use_session();
    let back = move |_| {
        let undo = commands::undo(Subject::new(SubjectKind::Job, job), entry);
        session.save_and(vec![undo], move |_| session.tell("It is in the shop again."));
    };
    view! {
        <section class="card stack" aria-label="Hand over">
            <p>"It has left the shop: "{when}"."</p>
            <button class="quiet" on:click=back>"Take the hand-over back"</button>
            <a class="button quiet" href=format!("/complaint/{job}")>"It came back"</a>
        </section>
    }
    .into_any()
}
