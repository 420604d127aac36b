//! Choosing an operation without typing.

use leptos::prelude::*;
use shared::trade::operations::operations;

use super::field::id_for;

/// A list of the trade's operations; the owner of `value` selects the likely one.
#[component]
pub fn OperationChoice(
    /// What is asked.
    label: &'static str,
    /// The operation's word in the log.
    value: RwSignal<String>,
) -> impl IntoView {
    let options = operations().map(|one| {
        view! { <option value=one.code selected=move || value.get() == one.code>{one.name}</option> }
    });
    let id = id_for(label);
    view! {
        <div class="field">
            <label for=id.clone()>{label}</label>
            <select id=id on:change=move |event| value.set(event_target_value(&event))>
                // An empty option for while `value` is empty.
                <option value="" hidden selected=move || value.with(String::is_empty)></option>
                {options.collect_view()}
            </select>
        </div>
    }
}
