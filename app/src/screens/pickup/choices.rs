//! Boxes to tick on this screen.

use leptos::prelude::*;

/// Adds a word to a list, or removes it.
pub(super) fn flip(list: &mut Vec<String>, word: &str) {
    match list.iter().position(|one| one == word) {
        Some(at) => drop(list.remove(at)),
        None => list.push(word.to_owned()),
    }
}

/// A line with a box to tick.
#[component]
pub(super) fn Tick(
    /// The label of the box.
    label: String,
    /// Whether it is ticked.
    on: Signal<bool>,
    /// Called on a tap.
    press: Callback<()>,
) -> impl IntoView {
    view! {
        <label class="check-line">
            <input type="checkbox" prop:checked=move || on.get() on:change=move |_| press.run(())/>
            <span>{label}</span>
        </label>
    }
}
