//! Handing the pair over.

use leptos::prelude::*;
use shared::log::fold::bench;
use shared::log::{Subject, SubjectId, SubjectKind};
use shared::price::pickup::PaidTogether;

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
        return left(found.job, over.entry, &on_day(over.at.utc)).into_any();
    }
    let due = ticket.and_then(|ticket| still_due(ticket, found.job));
    let due = due.map(|words| view! { <p><strong>{words}</strong></p> });
    let ways = if bench::goes_back_unrepaired(&state) {
        [Leaves::Unrepaired, Leaves::Finished]
    } else {
        [Leaves::Finished, Leaves::Unrepaired]
    };
    view! {
        <section class="card stack" aria-label=words::pickup::hand_over()>
            {due}
            {hand_over(found.job, state, ways)}
        </section>
    }
    .into_any()
}

/// What is due if this pair leaves now, in words; nothing if nothing is.
fn still_due(ticket: &TicketLife, job: SubjectId) -> Option<String> {
    let (shop, account) = (use_shop(), ticket.account());
    let due = account.due(PaidTogether::This(job));
    if !due.is_positive() {
        return None;
    }
    // A helper may know that something is due, but not how much.
    if shop.helper() {
        return Some(words::pickup::something_still_due().to_owned());
    }
    let due = shop.money(due);
    Some(if account.due(PaidTogether::Gone).is_positive() {
        words::pickup::still_due_with_what_has_left(&due)
    } else {
        words::pickup::still_due(&due)
    })
}

/// The likely way of leaving first and large, the other one beside it.
fn hand_over(job: SubjectId, state: shared::log::fold::JobState, ways: [Leaves; 2]) -> AnyView {
    let (session, bench) = (use_session(), use_selection());
    let why = RwSignal::new(String::new());
    let state = StoredValue::new(state);
    let go = move |way| match state.with_value(|state| commands::hand_over(job, state, way)) {
        Ok(draft) => session.save_and(vec![draft], move |_| {
            bench.forget(&[job]);
            session.tell(words::pickup::handed_over());
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
        Leaves::Finished => words::pickup::hand_over(),
        Leaves::Unrepaired => words::pickup::give_back_unrepaired(),
    }
}

fn left(job: SubjectId, entry: shared::log::EntryId, when: &str) -> AnyView {
    let session = use_session();
    let back = move |_| {
        let undo = commands::undo(Subject::new(SubjectKind::Job, job), entry);
        session.save_and(vec![undo], move |_| {
            session.tell(words::pickup::in_the_shop_again())
        });
    };
    view! {
        <section class="card stack" aria-label=words::pickup::hand_over()>
            <p>{words::pickup::has_left_the_shop(when)}</p>
            <button class="quiet" on:click=back>{words::pickup::withdraw_hand_over()}</button>
            <a class="button quiet" href=format!("/complaint/{job}")>{words::pickup::complaint()}</a>
        </section>
    }
    .into_any()
}
