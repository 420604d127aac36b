//! A choice that is one tap, and another tap to take back.

use leptos::prelude::*;

/// A button that is pressed or not, and says so to the eye, the finger and the screen reader.
#[component]
pub fn Toggle(
    /// What is chosen.
    #[prop(into)]
    label: String,
    /// Whether it is.
    on: Signal<bool>,
    /// What a tap does.
    press: Callback<()>,
) -> impl IntoView {
    view! {
        <button type="button" class="chip" aria-pressed=move || if on.get() { "true" } else { "false" }
            on:click=move |_| press.run(())>{label}</button>
    }
}
