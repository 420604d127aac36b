//! A choice made with one tap and undone with another.

use leptos::prelude::*;

/// A toggle button: its state shows in its style and in `aria-pressed`.
#[component]
pub fn Toggle(
    /// What is chosen.
    #[prop(into)]
    label: String,
    /// Whether it is chosen.
    on: Signal<bool>,
    /// What a tap does.
    press: Callback<()>,
    /// What is chosen for, where choices of one label stand on the page several times: screen readers say it after the
    /// label.
    #[prop(optional)]
    about: Signal<Option<String>>,
) -> impl IntoView {
    let shown = label.clone();
    let spoken = move || Some(words::parts::choice_about(&label, &about.get()?));
    view! {
        <button type="button" class="chip" aria-label=spoken aria-pressed=move || if on.get() { "true" } else { "false" }
            on:click=move |_| press.run(())>{shown}</button>
    }
}
