//! Keeping a result on the pair.

use leptos::prelude::*;
use serde_json::{Map, Value};
use shared::log::SubjectId;
use shared::log::body::Measured;
use shared::log::body::OperationCode;

use super::{CalcJob, state_of};
use crate::parts::UndoLast;
use crate::selection::{UndoScope, use_selection};
use app_core::commands;

/// A result to be kept.
pub(super) struct KeptCalculation {
    /// The calculation, by its word in the log.
    pub(super) what: &'static str,
    /// The result in words.
    pub(super) say: String,
    /// The values it was calculated from.
    pub(super) given: Map<String, Value>,
}

/// The button that keeps it, once there is something to keep, and the link back to the work.
#[component]
pub(super) fn Keep(
    known: CalcJob,
    job: SubjectId,
    operation: Memo<String>,
    /// Whether there is something to keep: an answer that rests on something measured.
    #[prop(into)]
    offered: Signal<bool>,
    /// Returns what there is to keep now; `None` if nothing.
    keep: Callback<(), Option<KeptCalculation>>,
) -> impl IntoView {
    let bench = use_selection();
    let press = move |_| {
        let Some(KeptCalculation { what, say, given }) = keep.run(()) else {
            return;
        };
        let measured = Measured {
            what: what.to_owned(),
            operation: OperationCode::if_any(&operation.get_untracked()),
            say,
            given,
        };
        let state = known
            .with_untracked(|known| known.as_ref().map(state_of))
            .unwrap_or_default();
        bench.act(
            vec![commands::measured(job, &state, measured)],
            words::calc_screens::saved_on_pair(),
        );
    };
    view! {
        <p class="keep">
            <Show when=move || offered.get()>
                <button class="bench" on:click=press>{words::calc_screens::save_on_pair()}</button>
            </Show>
            <a class="button bench quiet" href=format!("/job/{job}")>{words::calc_screens::back_to_work()}</a>
        </p>
        <UndoLast of=Some(UndoScope::Of(job))/>
    }
}
