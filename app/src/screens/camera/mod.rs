//! The camera screen: photographing one pair after another with one thumb.

mod back;
mod ghost;
mod run;
mod scan;
mod strip;
mod tools;
mod trigger;
mod viewfinder;
mod visit;

use leptos::prelude::*;
use leptos_router::hooks::use_query_map;
use shared::log::body::Shows;

use crate::device::camera::use_camera;
use crate::device::screen::use_awake;
use crate::parts::{OperationChoice, UndoLast};

pub(super) use back::Back;
use run::{CameraRun, Runs};
use strip::Strip;
use tools::Tools;
use trigger::{CameraTimer, Trigger};
use viewfinder::Viewfinder;
use visit::{Visit, VisitTarget};

/// The camera for one job, or for several in a run.
#[component]
pub fn Camera() -> impl IntoView {
    let query = use_query_map();
    let asked = Signal::derive(move || VisitTarget {
        shows: query.read().get("shows").map(|word| Shows::from(word.as_str())),
        of: query.read().get("of").and_then(|text| text.parse().ok()),
        back: query.read().get("back").and_then(|word| Back::named(&word)),
    });
    let visit = Visit::begin(asked);
    let back = Signal::derive(move || {
        let VisitTarget { of, back, .. } = asked.get();
        Some((visit.job().get()?, of, back?))
    });
    let brought = Signal::derive(move || visit.shows() == Shows::DropOff);
    let finished = visit.finished();
    let run = CameraRun::follow();
    let lens = use_camera();
    let of = visit.whose();
    let ghost = RwSignal::new(false);
    let timer = CameraTimer::new();
    use_awake();
    lens.start();
    view! {
        <div class="camera" class:saved-flash=move || visit.flashing().get()>
            <Viewfinder lens visit ghost=ghost.read_only() timer><Strip visit run/></Viewfinder>
            <div class="row between">
                <Counts visit run/>
                <UndoLast of/>
            </div>
            <Tools lens visit ghost timer run/>
            <Show when=move || visit.free().get()>
                <div class="row" on:change=move |_| finished.set(false)>
                    <OperationChoice label=words::camera::operation() value=visit.operation()/>
                    <button class="bench" disabled=move || visit.job().get().is_none() on:click=move |_| visit.step_done()>{words::camera::step_done()}</button>
                </div>
            </Show>
            <div class="under-thumb">
                <Trigger lens visit timer/>
                <Runs run timer brought back/>
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
