//! A warning about entries that exist on this device only.

use leptos::prelude::*;

use crate::selection::use_selection;
use crate::session::use_live_query;

/// How many entries and pictures are not sent to a server yet, and so would be lost with this device; nothing if none.
#[component]
pub fn Unsafe() -> impl IntoView {
    let unsaved = use_selection().unsaved();
    let held =
        use_live_query(
            |phone| async move { Ok((phone.counts().await?, phone.membership().await?.joined())) },
        );
    let line = move || {
        let (counts, joined) = held.get()?;
        // What the server refused is on no server either.
        let entries = counts.unsent + counts.refused;
        let pictures = counts.unsent_blobs + counts.parked_blobs;
        match (entries + pictures, joined) {
            (0, _) => None,
            (_, true) => Some(words::bench::only_on_this_device_so_far(entries, pictures)),
            (_, false) => Some(words::bench::records_only_on_this_device().to_owned()),
        }
    };
    view! {
        <p class="quiet" data-unsafe="">{line}</p>
        <Show when=move || { unsaved.get() > 0 }>
            <p class="bad" role="status">{words::bench::photographs_being_saved()}<span data-count="unsaved">{move || unsaved.get()}</span>{words::bench::photographs_being_saved_end()}</p>
        </Show>
    }
}
