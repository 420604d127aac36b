//! The dock at the lower edge, within reach of one thumb: the camera and the one large action.

use leptos::prelude::*;

use super::now::{RunAction, RunNow, run_key};
use super::picked::{PickedBar, picked_rows, run_address};
use crate::parts::{UndoLast, camera_icon};
use crate::selection::{UndoScope, use_selection};
use app_core::stations::StationSection;

/// What is next for the picked pairs; while none is picked, for the first run. Above it what can be undone. Nothing if
/// there is nothing of all that.
#[component]
pub(super) fn Dock(
    /// The sections of the Bench; `None` until they are read.
    shop: Memo<Option<Vec<StationSection>>>,
    /// The runs to do now.
    known: Memo<Vec<RunNow>>,
) -> impl IntoView {
    let bench = use_selection();
    let rows = picked_rows(bench, shop);
    let picking = Memo::new(move |_| rows.with(|rows| !rows.is_empty()));
    let first = move || {
        let runs = known.get().into_iter();
        runs.take(usize::from(!picking.get())).collect::<Vec<_>>()
    };
    let silent = Memo::new(move |_| {
        bench.last(UndoScope::Bench).is_none() && !picking.get() && known.with(Vec::is_empty)
    });
    view! {
        <div class="dock" class:silent=move || silent.get()>
            <UndoLast of=Some(UndoScope::Bench)/>
            <Show when=move || picking.get()><PickedBar rows/></Show>
            <For each=first key=run_key children=for_run/>
        </div>
    }
}

/// The camera for a run, and what is done with it next.
fn for_run((run, rows): RunNow) -> impl IntoView {
    let camera = run_address(&rows);
    view! {
        <div class="actions dock-row">
            <a class="button bench quiet shoot-run" href=camera>{camera_icon()}<span class="unseen">{words::bench::photograph_this_run()}</span></a>
            <RunAction run rows/>
        </div>
    }
}
