//! The camera screen: photographing one pair after another with one thumb.

mod back;
mod ghost;
mod naming;
mod pair_now;
mod run;
mod scan;
mod strip;
mod system_camera;
mod timer;
mod tools;
mod trigger;
mod viewfinder;
mod visit;

use leptos::prelude::*;
use leptos_router::hooks::use_query_map;
use shared::log::body::Shows;

use crate::device::camera::use_camera;
use crate::device::screen::use_awake;
use crate::parts::UndoLast;

pub(super) use back::Back;
use pair_now::PairNow;
use run::{CameraRun, Runs};
use strip::Strip;
use timer::CameraTimer;
use tools::{Tools, WayBack};
use trigger::Trigger;
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
    let job = visit.job();
    let way_back = Signal::derive(move || {
        let VisitTarget { of, back, .. } = asked.get();
        match job.get().zip(back) {
            Some((job, back)) => WayBack {
                address: back.address(job, of),
                words: back.words(),
            },
            None => WayBack {
                address: "/".to_owned(),
                words: words::parts::bench(),
            },
        }
    });
    let brought = Signal::derive(move || visit.shows() == Shows::DropOff);
    let run = CameraRun::follow();
    let lens = use_camera();
    let of = visit.whose();
    let ghost = RwSignal::new(false);
    let timer = CameraTimer::new();
    use_awake();
    lens.start();
    view! {
        <div class="camera" class:saved-flash=move || visit.flashing().get()>
            <Viewfinder lens visit ghost=ghost.read_only() timer>
                <Tools lens visit ghost timer run way_back/>
                <UndoLast of/>
            </Viewfinder>
            <div class="controls">
                <PairNow visit run/>
                <div class="taken">
                    <Strip visit run/>
                    <Show when=move || visit.free().get()>
                        <button class="bench quiet onward" disabled=move || job.get().is_none()
                            on:click=move |_| visit.step_done()>{words::camera::step_done()}</button>
                    </Show>
                    <Runs run timer brought/>
                </div>
                <Trigger lens visit timer run/>
            </div>
        </div>
    }
}
