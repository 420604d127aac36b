//! Records: any pair the shop ever had, found while typing.

use leptos::prelude::*;
use leptos_router::hooks::use_query_map;

use crate::parts::{Field, PairRow};
use crate::workshop::use_stored;

/// The most pairs shown for one search.
const SHOWN: usize = 50;

/// Search over number, customer, last digits of the telephone, maker, colour, look and notes.
#[component]
pub fn Records() -> impl IntoView {
    let asked = use_query_map().get_untracked().get("words").unwrap_or_default();
    let words = RwSignal::new(asked);
    let found = use_stored(move |phone| {
        let words = words.get();
        async move { phone.search(&words, SHOWN).await }
    });
    let rows = move || {
        found.get().map(|found| {
            let none = found.is_empty();
            let many = found.len() == SHOWN;
            view! {
                <ul class="pairs" aria-label="Found">
                    {found.into_iter().map(|summary| view! { <PairRow summary/> }).collect_view()}
                </ul>
                {none.then(|| view! { <p>"No pair answers to that."</p> })}
                {many.then(|| view! { <p class="quiet">"The newest "{SHOWN}". Type more to find others."</p> })}
            }
        })
    };
    view! {
        <div class="row between">
            <h1>"Records"</h1>
            <a class="button quiet" href="/collect">"Not collected"</a>
        </div>
        <Field label="Number, name, last digits, maker, colour, note" value=words kind="search"/>
        {rows}
    }
}
