//! Asking the customer about something that turned up.

use leptos::prelude::*;

use super::job::use_job;

/// Asking the customer about something that turned up.
#[component]
pub fn Ask() -> impl IntoView {
    let found = use_job();
    move || {
        let known = found.get()?.is_some();
        Some(view! {
            <h1>"Ask the customer"</h1>
            {(!known).then(|| view! { <p>"There is no such job on this device."</p> })}
        })
    }
}
