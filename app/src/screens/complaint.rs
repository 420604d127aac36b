//! A job that makes good earlier work.

use leptos::prelude::*;

use super::job::use_job;

/// A job that makes good earlier work.
#[component]
pub fn Complaint() -> impl IntoView {
    let found = use_job();
    move || {
        let known = found.get()?.is_some();
        Some(view! {
            <h1>"It came back"</h1>
            {(!known).then(|| view! { <p>"There is no such job on this device."</p> })}
        })
    }
}
