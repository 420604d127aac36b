//! Undo instead of asking first.

use leptos::prelude::*;

use crate::workbench::use_workbench;

/// What was done last at the bench, with a way to take it back.
#[component]
pub fn UndoLast() -> impl IntoView {
    let bench = use_workbench();
    view! {
        <div class="undo" role="status">
            <span>{move || bench.last()}</span>
            <Show when=move || bench.last().is_some()>
                <button class="bench quiet" on:click=move |_| bench.undo()>"Undo"</button>
            </Show>
        </div>
    }
}
