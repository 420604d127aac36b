//! Shop: what the shop is called, its devices, and how safe its records are.

mod backup;
mod details;
mod devices;
mod storage;
mod sync;

use leptos::prelude::*;

/// Everything about the shop that is not about one pair.
#[component]
pub fn Shop() -> impl IntoView {
    view! {
        <h1>"Shop"</h1>
        <sync::Sync/>
        <devices::Devices/>
        <details::Details/>
        <backup::Backup/>
        <storage::Storage/>
    }
}
