//! Another day than the one that was promised, agreed with the customer.

use leptos::prelude::*;
use serde_json::json;
use shared::log::body::field;
use shared::log::{Subject, SubjectKind};

use crate::acts;
use crate::parts::{Typed, UndoLast, day_words};
use crate::screens::ticket::TicketLife;
use crate::workbench::use_workbench;
use crate::workshop::use_workshop;

/// A day to promise instead; it stands for the whole ticket.
pub(super) fn another(ticket: &TicketLife) -> impl IntoView + use<> {
    let (workshop, bench) = (use_workshop(), use_workbench());
    let subject = Subject::new(SubjectKind::Ticket, ticket.ticket);
    let state = StoredValue::new(ticket.state().cloned().unwrap_or_default());
    let day = RwSignal::new(state.with_value(|state| state.text(field::DAY).to_owned()));
    let typed = Callback::new(move |text| day.set(text));
    let agreed = move |_| {
        let day = day.get_untracked();
        if day.is_empty() {
            return workshop.want("Which day is agreed?");
        }
        let draft = state.with_value(|state| acts::set_value(subject.clone(), state, field::DAY, json!(day)));
        match draft {
            Some(draft) => bench.act(vec![draft], ["Promised for ", &day_words(&day), "."].concat()),
            None => workshop.tell("It is promised for that day."),
        }
    };
    view! {
        <details>
            <summary>"Promise another day"</summary>
            <div class="row">
                <Typed label="Day promised" kind="date" value=day.into() typed/>
                <button class="bench quiet" on:click=agreed>"This day is agreed"</button>
            </div>
        </details>
        <UndoLast on=Some(ticket.ticket)/>
    }
}
