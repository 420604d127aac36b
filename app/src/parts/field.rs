//! One labelled input.

use leptos::prelude::*;

/// A labelled text input bound to a signal.
#[component]
pub fn Field(
    /// What is asked.
    label: &'static str,
    /// The text typed.
    value: RwSignal<String>,
    /// The input's type: `text`, `tel`, `date`, `url`, …
    #[prop(default = "text")]
    kind: &'static str,
    /// What the keyboard should offer.
    #[prop(optional)]
    inputmode: Option<&'static str>,
) -> impl IntoView {
    let id = id_for(label);
    view! {
        <div class="field">
            <label for=id.clone()>{label}</label>
            <input
                id=id
                type=kind
                inputmode=inputmode
                autocomplete="off"
                prop:value=move || value.get()
                on:input=move |event| value.set(event_target_value(&event))
            />
        </div>
    }
}

/// The id of the input with this label. Labels are unique within a screen, so ids are too.
pub(super) fn id_for(label: &str) -> String {
    label
        .chars()
        .map(|c| {
            if c.is_ascii_alphanumeric() {
                c.to_ascii_lowercase()
            } else {
                '-'
            }
        })
        .collect()
}
