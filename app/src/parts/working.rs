//! Who is working on this device now.

use leptos::prelude::*;
use shared::log::body::Person;

use super::Toggle;
use crate::session::use_session;
use crate::shop::use_shop;

/// Those who work here, each one tap away from being the one who works now. Nothing until the shop has named somebody.
#[component]
pub fn Working() -> impl IntoView {
    let shop = use_shop();
    let session = use_session();
    // Who works is known before the others are read: their room is kept, and nothing moves when they come.
    let nobody = move || shop.people().is_empty() && session.person().get().is_none();
    view! {
        <div class="chips working" role="group" aria-label="Working now" hidden=nobody>
            <span class="quiet">"Working now:"</span>
            {move || shop.people().into_iter().map(one).collect_view()}
        </div>
    }
}

fn one(person: Person) -> impl IntoView {
    let session = use_session();
    let who = person.person;
    let on = Signal::derive(move || session.person().get() == Some(who));
    let press = Callback::new(move |()| session.works_now(Some(who)));
    view! { <Toggle label=person.name on press/> }
}
