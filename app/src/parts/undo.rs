//! Undo instead of asking first.

use leptos::prelude::*;

use shared::log::SubjectId;

use crate::workbench::use_workbench;

/// What was done last at the bench, with a way to take it back; on the screen of a job, what was done last on that job.
#[component]
pub fn UndoLast(
    /// The job on the screen.
    #[prop(optional, into)]
    on: Signal<Option<SubjectId>>,
) -> impl IntoView {
    let bench = use_workbench();
    let last = Memo::new(move |_| bench.last(on.get()));
    view! {
        <div class="undo" role="status">
            <span>{move || last.get()}</span>
            <Show when=move || last.with(Option::is_some)>
                <button class="bench quiet" on:click=move |_| bench.undo(on.get_untracked())>"Undo"</button>
            </Show>
        </div>
    }
}
