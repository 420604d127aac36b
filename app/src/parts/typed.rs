//! One labelled input whose text is owned by the caller.

use leptos::prelude::*;

/// A labelled text input that shows a signal and passes on what is typed. For an input with a signal of its own:
/// [`super::Field`].
#[component]
pub fn Typed(
    /// What is asked.
    #[prop(into)]
    label: Signal<String>,
    /// The text shown.
    value: Signal<String>,
    /// Called with the text after each change.
    typed: Callback<String>,
    /// The id of the input, where the focus has to find it.
    #[prop(optional, into)]
    id: Option<String>,
    /// The input's type: `text`, `tel`, `date`, `search`, …
    #[prop(default = "text")]
    kind: &'static str,
    /// What the keyboard should offer.
    #[prop(optional)]
    inputmode: Option<&'static str>,
    /// Whether its value is what prevents the form from being accepted.
    #[prop(optional, into)]
    wrong: Signal<bool>,
) -> impl IntoView {
    view! {
        <label class="field">
            <span>{move || label.get()}</span>
            <input id=id type=kind inputmode=inputmode autocomplete="off"
                aria-invalid=move || wrong.get().then_some("true")
                prop:value=move || value.get()
                on:input=move |event| typed.run(event_target_value(&event))/>
        </label>
    }
}
