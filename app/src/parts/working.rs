//! Who is working on this device now.

use leptos::prelude::*;
use shared::log::body::Person;

use super::Toggle;
use crate::shop::use_shop;
use crate::workshop::use_workshop;

/// Those who work here, each one tap away from being the one who works now. Nothing until the shop has named somebody.
#[component]
pub fn Working() -> impl IntoView {
    let shop = use_shop();
    let workshop = use_workshop();
    // Who works is known before the others are read: their room is kept, and nothing moves when they come.
    let nobody = move || shop.people().is_empty() && workshop.person().get().is_none();
    view! {
        <div class="chips working" role="group" aria-label="Working now" hidden=nobody>
            <span class="quiet">"Working now:"</span>
            {move || shop.people().into_iter().map(one).collect_view()}
        </div>
    }
}

fn one(person: Person) -> impl IntoView {
    let workshop = use_workshop();
    let who = person.person;
    let on = Signal::derive(move || workshop.person().get() == Some(who));
    let press = Callback::new(move |()| workshop.works_now(Some(who)));
    view! { <Toggle label=person.name on press/> }
}
