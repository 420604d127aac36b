//! Choosing an operation without typing.

use leptos::prelude::*;
use shared::log::body::OperationCode;
use shared::trade::operations::operations;

use super::field::id_for;

/// A list of the trade's operations; the owner of `value` selects the likely one.
#[component]
pub fn OperationChoice(
    /// What is asked.
    label: &'static str,
    /// The chosen operation; `None` until one is chosen.
    value: RwSignal<Option<OperationCode>>,
) -> impl IntoView {
    let options = operations().map(|one| {
        view! { <option value=one.code selected=move || value.with(|code| code.as_deref() == Some(one.code))>{one.name()}</option> }
    });
    let id = id_for(label);
    view! {
        <div class="field">
            <label for=id.clone()>{label}</label>
            <select id=id on:change=move |event| value.set(Some(event_target_value(&event).into()))>
                // An empty option for while nothing is chosen.
                <option value="" hidden selected=move || value.with(Option::is_none)></option>
                {options.collect_view()}
            </select>
        </div>
    }
}
