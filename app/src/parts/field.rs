//! One labelled input.

use leptos::prelude::*;

/// A labelled text input bound to a signal.
#[component]
pub fn Field(
    /// What is asked.
    label: &'static str,
    /// Where the answer goes.
    value: RwSignal<String>,
    /// The input's type: `text`, `tel`, `date`, `url`, …
    #[prop(default = "text")]
    kind: &'static str,
    /// What the keyboard should offer.
    #[prop(optional)]
    inputmode: Option<&'static str>,
) -> impl IntoView {
    view! {
        <label class="field">
            <span>{label}</span>
            <input
                type=kind
                inputmode=inputmode
                autocomplete="off"
                prop:value=move || value.get()
                on:input=move |event| value.set(event_target_value(&event))
            />
        </label>
    }
}
