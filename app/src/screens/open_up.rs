//! Opening up: what nobody could see, part by part.

use leptos::prelude::*;

use super::job::use_job;

/// Opening up: what nobody could see, part by part.
#[component]
pub fn OpenUp() -> impl IntoView {
    let found = use_job();
    move || {
        let known = found.get()?.is_some();
        Some(view! {
            <h1>"Opening up"</h1>
            {(!known).then(|| view! { <p>"There is no such job on this device."</p> })}
        })
    }
}
