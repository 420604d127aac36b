//! The pair before the lens, below the picture.

use leptos::prelude::*;

use super::naming::{described, named};
use super::run::CameraRun;
use super::visit::Visit;
use crate::parts::Face;

/// Its face, its number, which one of a run it is, and how many photographs are saved.
#[component]
pub fn PairNow(visit: Visit, run: CameraRun) -> impl IntoView {
    let (line, job) = (visit.line(), visit.job());
    let face = Signal::derive(move || line.with(|line| line.as_ref()?.0.face.clone()));
    let goods = Signal::derive(move || {
        let goods = line.with(|line| line.as_ref().map(|(summary, _)| summary.goods.clone()));
        goods.unwrap_or_default()
    });
    let name = move || {
        line.with(|line| {
            let (summary, line) = line.as_ref()?;
            Some(named(summary, line))
        })
    };
    let title = Memo::new(move |_| {
        line.with(|line| {
            let (summary, line) = line.as_ref()?;
            described(summary, line)
        })
    });
    view! {
        <div class="pair-now">
            <Face of=face on=job alt="" goods=goods/>
            <strong class="called" class:tagged=move || title.with(Option::is_some)>{name}</strong>
            <div class="who">
                <span class="described">{title}</span>
                <Counts visit run/>
            </div>
        </div>
    }
}

/// The position in the run, and how many photographs are saved and how many are not yet. The latter counts those of all
/// pairs.
#[component]
fn Counts(visit: Visit, run: CameraRun) -> impl IntoView {
    let unsaved = visit.unsaved();
    // A run of one pair shows no position.
    let several = move || run.position().filter(|(_, of)| *of > 1);
    let position = move || several().map(|(at, of)| words::camera::place_in_run(at, of));
    view! {
        <p class="counts" role="status">
            {position}
            <span data-count="saved">{move || visit.saved().get()}</span>{words::camera::saved_after_count()}
            <Show when=move || { unsaved.get() > 0 }>
                ", "<span data-count="unsaved">{move || unsaved.get()}</span>{words::camera::being_saved_after_count()}
            </Show>
        </p>
    }
}
