//! One labelled input whose text is kept elsewhere.

use leptos::prelude::*;

/// A labelled text input that shows a signal and hands on what is typed. For text of its own: [`super::Field`].
#[component]
pub fn Typed(
    /// What is asked.
    #[prop(into)]
    label: Signal<String>,
    /// What stands in it.
    value: Signal<String>,
    /// Where what is typed goes.
    typed: Callback<String>,
    /// Its id, where focus has to find it.
    #[prop(optional, into)]
    id: Option<String>,
    /// The input's type: `text`, `tel`, `date`, `search`, …
    #[prop(default = "text")]
    kind: &'static str,
    /// What the keyboard should offer.
    #[prop(optional)]
    inputmode: Option<&'static str>,
    /// Whether it is what keeps the form from being taken.
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
