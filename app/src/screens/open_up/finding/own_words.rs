//! A part or a condition in the shop's own words, for what is not in the lists or has no name yet.

use leptos::prelude::*;

use crate::parts::Typed;

/// A field, folded until it is wanted.
#[component]
pub fn OwnWords(
    /// What is folded.
    summary: &'static str,
    /// The label of the field.
    label: &'static str,
    /// What the button says.
    button: &'static str,
    /// Called with what was typed, unless that is blank.
    take: Callback<String>,
) -> impl IntoView {
    let text = RwSignal::new(String::new());
    let press = move |_| {
        let typed = text.get_untracked().trim().to_owned();
        if !typed.is_empty() {
            take.run(typed);
        }
    };
    view! {
        <details>
            <summary>{summary}</summary>
            <div class="stack">
                <Typed label=label.to_owned() value=text.into() typed=Callback::new(move |typed| text.set(typed))/>
                <button class="bench" on:click=press>{button}</button>
            </div>
        </details>
    }
}
