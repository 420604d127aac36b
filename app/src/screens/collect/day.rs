//! Promising another day, agreed with the customer.

use leptos::prelude::*;
use shared::log::body::field;
use shared::log::{Subject, SubjectKind};
use shared::text::unless_empty;

use crate::parts::{Typed, UndoLast, day_words, promised};
use crate::screens::ticket::TicketLife;
use crate::selection::{UndoScope, use_selection};
use crate::session::use_session;
use app_core::commands;

/// The form for another day; it is promised for the whole ticket.
pub(super) fn another(ticket: &TicketLife) -> impl IntoView + use<> {
    let (session, bench) = (use_session(), use_selection());
    let subject = Subject::new(SubjectKind::Ticket, ticket.ticket);
    let state = StoredValue::new(ticket.state().cloned().unwrap_or_default());
    let said = |name| {
        RwSignal::new(state.with_value(|state| state.details.text(name).unwrap_or_default().to_owned()))
    };
    let (day, from) = (said(field::DAY), said(field::READY_FROM));
    let typed = Callback::new(move |text| {
        day.set(text);
        // The time was typed for the former day.
        from.set(String::new());
    });
    let typed_from = Callback::new(move |text| from.set(text));
    let agreed = move |_| {
        let day = day.get_untracked();
        if day.is_empty() {
            return session.ask_to_correct(words::collect::which_day_is_agreed());
        }
        let from = from.get_untracked();
        let words = promised(&day_words(&day), unless_empty(from.as_str()));
        let fields = [(field::DAY, day), (field::READY_FROM, from)];
        let drafts: Vec<_> = state.with_value(|state| {
            let changed = fields.into_iter();
            changed
                .filter_map(|(name, value)| commands::set(subject.clone(), &state.details, name, &value))
                .collect()
        });
        if drafts.is_empty() {
            session.tell(words::collect::already_promised_for_that_day());
        } else {
            bench.act(drafts, words::collect::was_promised_for(&words));
        }
    };
    view! {
        <details>
            <summary>{words::collect::promise_another_day()}</summary>
            <div class="row">
                <Typed label=words::collect::day_promised() kind="date" value=day.into() typed/>
                <Typed label=words::collect::ready_from() kind="time" value=from.into() typed=typed_from/>
                <button class="bench quiet" on:click=agreed>{words::collect::this_day_is_agreed()}</button>
            </div>
        </details>
        <UndoLast of=Some(UndoScope::Of(ticket.ticket))/>
    }
}
