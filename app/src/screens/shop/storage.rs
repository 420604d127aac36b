//! The storage that the records use, and whether the browser has promised to keep them.

use leptos::prelude::*;
use leptos::task::spawn_local;

use crate::device::storage::{Storage as Room, keep_records, storage};
use crate::session::use_session;

/// Usage, the browser's promise, and a button to ask for it.
#[component]
pub fn Storage() -> impl IntoView {
    let session = use_session();
    let shown = RwSignal::new(None::<Room>);
    Effect::new(move |_| {
        session.revision().track();
        spawn_local(async move {
            shown.try_set(Some(storage().await));
        });
    });
    let ask = move |_| {
        spawn_local(async move {
            keep_records().await;
            session.changed();
        });
    };
    let lines = move || {
        shown.get().map(|room| {
            let left = room.used.zip(room.allowed).map(|(used, allowed)| (mb(used), mb(allowed - used)));
            view! {
                <p>{promise(room.persisted)}</p>
                {left.map(|(used, left)| view! { <p data-usage="">{words::shop::storage::megabytes_used(used, left)}</p> })}
                {(room.persisted == Some(false)).then(|| view! { <button on:click=ask>{words::shop::storage::ask_to_keep_records()}</button> })}
            }
        })
    };
    view! {
        <section class="card">
            <h2>{words::shop::storage::room_on_this_device()}</h2>
            {lines}
        </section>
    }
}

fn promise(persisted: Option<bool>) -> &'static str {
    match persisted {
        Some(true) => words::shop::storage::browser_has_promised(),
        Some(false) => words::shop::storage::browser_may_clear(),
        None => words::shop::storage::browser_does_not_say(),
    }
}

/// In whole megabytes.
fn mb(bytes: f64) -> f64 {
    (bytes / 1e6).round()
}
