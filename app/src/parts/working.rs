//! Who is working on this device now.

use leptos::prelude::*;
use shared::log::body::Person;

use super::Toggle;
use crate::session::use_session;
use crate::shop::use_shop;

/// A button for each person who works here, which makes them the one who works on this device. Nothing while the shop
/// has no people.
#[component]
pub fn Working() -> impl IntoView {
    let shop = use_shop();
    let session = use_session();
    // Space is reserved while somebody works here and the list is not read yet, so that nothing moves when it appears.
    let nobody = move || shop.people().is_empty() && session.person().get().is_none();
    view! {
        <div class="chips working" role="group" aria-label=words::parts::working_now() hidden=nobody>
            <span class="quiet">{words::parts::working_now_before_names()}</span>
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
