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
) -> impl IntoView {
    view! {
        <button type="button" class="chip" aria-pressed=move || if on.get() { "true" } else { "false" }
            on:click=move |_| press.run(())>{label}</button>
    }
}
