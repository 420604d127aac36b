//! Records: any pair the shop ever had, found while typing.

use leptos::prelude::*;

use crate::parts::{Field, PairRow};
use crate::workshop::use_stored;

/// The most pairs shown for one search.
const SHOWN: usize = 50;

/// Search over number, customer, last digits of the telephone, maker, colour and look.
#[component]
pub fn Records() -> impl IntoView {
    let words = RwSignal::new(String::new());
    let found = use_stored(move |phone| {
        let words = words.get();
        async move { phone.search(&words, SHOWN).await }
    });
    let rows = move || {
        found.get().map(|found| {
            let none = found.is_empty();
            view! {
                <ul class="pairs" aria-label="Found">
                    {found.into_iter().map(|summary| view! { <PairRow summary/> }).collect_view()}
                </ul>
                {none.then(|| view! { <p>"No pair answers to that."</p> })}
            }
        })
    };
    view! {
        <h1>"Records"</h1>
        <Field label="Number, name, last digits, maker, colour" value=words kind="search"/>
        {rows}
    }
}
