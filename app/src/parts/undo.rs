//! Undo, instead of asking for confirmation.

use leptos::prelude::*;

use crate::selection::{UndoScope, use_selection};

/// What was done last, with a way to take it back.
#[component]
pub fn UndoLast(
    /// Whose actions it offers to undo; `None` while that is not known.
    #[prop(into)]
    of: Signal<Option<UndoScope>>,
) -> impl IntoView {
    let bench = use_selection();
    let last = Memo::new(move |_| bench.last(of.get()?));
    // Undoes exactly the action that the line names, even if another has been added meanwhile.
    let undo = move |_| last.with_untracked(|last| last.iter().for_each(|last| bench.undo(last)));
    view! {
        <div class="undo" role="status">
            <span>{move || last.get().map(|last| last.said)}</span>
            <Show when=move || last.with(Option::is_some)>
                <button class="bench quiet" on:click=undo>{words::session::undo()}</button>
            </Show>
        </div>
    }
}
