//! What is done next and the camera, within reach of the thumb.

use leptos::prelude::*;
use shared::log::fold::bench;

use super::remaining::{done_button, name_of};
use super::{WorkJob, state_of};
use crate::parts::{UndoLast, camera_icon};
use crate::screens::camera::Back;
use crate::selection::{UndoScope, use_selection};

/// The camera, and as the large action the next operation, or collecting the pair once nothing is left to do. What was done
/// last, with its undoing, stands above them.
#[component]
pub fn Dock(known: WorkJob) -> impl IntoView {
    let top = use_selection();
    let job = Memo::new(move |_| known.with(|known| known.as_ref().map(|known| known.job)));
    let of = Signal::derive(move || job.get().map(UndoScope::Of));
    let next = move || {
        let known = known.get()?;
        let (job, state) = state_of(&known)?;
        Some(match bench::remaining(state).first() {
            Some(code) => {
                let label = words::work::operation_done(&name_of(state, code));
                done_button(top, job, state, code, label)
            }
            None => {
                view! { <a class="button bench" href=format!("/pickup/{job}")>{words::work::pickup()}</a> }
                    .into_any()
            }
        })
    };
    view! {
        <div class="dock job-dock">
            <UndoLast of/>
            <a class="button bench quiet" aria-label=words::work::camera()
                href=move || job.get().map(|job| Back::Work.camera(job, None, None))>{camera_icon()}</a>
            {next}
        </div>
    }
}
