//! What lies on the picture: the way back, what is photographed, and tools that are needed now and then.

use leptos::prelude::*;
use shared::log::body::Shows;

use super::run::CameraRun;
use super::scan::Scan;
use super::system_camera::SystemCamera;
use super::timer::CameraTimer;
use super::visit::Visit;
use crate::device::camera::{Camera as Lens, CameraState, Torch, Zoom, can_scan};
use crate::device::screen::Hand;
use crate::parts::{Drawing, OperationChoice, VoiceRecorder};
use crate::selection::use_selection;
use app_core::commands::notes::NoteTarget;

/// The screen that the camera is left for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct WayBack {
    /// Its address.
    pub address: String,
    /// The name of the link to it.
    pub words: &'static str,
}

/// Two rows on the picture: the way back and what is photographed; then the tools. What this camera or browser cannot do
/// is left out.
#[component]
pub fn Tools(
    lens: Lens,
    visit: Visit,
    ghost: RwSignal<bool>,
    timer: CameraTimer,
    run: CameraRun,
    way_back: Signal<WayBack>,
) -> impl IntoView {
    let (able, more) = (lens.lens(), RwSignal::new(false));
    let torch = move || able.with(|able| able.torch);
    let lit = move || torch() == Some(Torch::On);
    let light = move || {
        lens.set_torch(match able.get_untracked().torch {
            Some(Torch::On) => Torch::Off,
            _ => Torch::On,
        });
    };
    view! {
        <div class="tools" role="group" aria-label=words::camera::camera()>
            <div class="tool-row">
                <a class="button bench quiet tool leave" href=move || way_back.get().address
                    aria-label=move || way_back.get().words><Drawing name="back"/></a>
                <Shown visit/>
            </div>
            <div class="tool-row">
                {tool("timer", words::camera::timer(), move || timer.set().get(), move || timer.set().update(|set| *set = !*set))}
                {tool("ghost", words::camera::ghost(), move || ghost.get(), move || ghost.update(|on| *on = !*on))}
                <Show when=move || torch().is_some()>
                    {tool("torch", words::camera::light(), lit, light)}
                </Show>
                <Show when=move || able.with(|able| able.zoom.is_some())><Closer lens/></Show>
                <button class="bench quiet tool" aria-label=words::camera::more_tools() title=words::camera::more_tools()
                    aria-expanded=move || more.get().to_string() on:click=move |_| more.update(|more| *more = !*more)>
                    <Drawing name="more"/>
                </button>
            </div>
            <Show when=move || more.get()><MoreTools lens visit run/></Show>
        </div>
    }
}

/// A tool that is on or off. Its button stays the same one, so that it keeps the focus.
fn tool(
    icon: &'static str,
    words: &'static str,
    on: impl Fn() -> bool + Send + 'static,
    act: impl Fn() + 'static,
) -> impl IntoView {
    view! {
        <button class="bench quiet tool" aria-label=words title=words aria-pressed=move || on().to_string()
            on:click=move |_| act()><Drawing name=icon/></button>
    }
}

/// What is photographed: chosen here, or said where the address says it.
#[component]
fn Shown(visit: Visit) -> impl IntoView {
    let (free, finished) = (visit.free(), visit.finished());
    let said = move || match visit.shows() {
        Shows::DropOff => words::history::photo_as_brought(),
        Shows::Finished => words::history::photo_finished(),
        Shows::Damage => words::history::photo_of_damage(),
        Shows::Swatch => words::history::photo_of_swatch(),
        _ => words::history::other_photo(),
    };
    let fixed = move || view! { <p class="shown">{said}</p> };
    view! {
        <Show when=move || free.get() fallback=fixed>
            <div class="shown" on:change=move |_| finished.set(false)>
                <OperationChoice label=words::camera::operation() value=visit.operation()/>
            </div>
            <button class="bench quiet" aria-pressed=move || finished.get().to_string()
                on:click=move |_| finished.update(|on| *on = !*on)>{words::camera::finished_pair()}</button>
        </Show>
    }
}

/// A button that doubles the zoom, up to the closest, and then returns to the widest.
#[component]
fn Closer(lens: Lens) -> impl IntoView {
    let able = lens.lens();
    let now = move || able.with(|able| able.zoom.map(|zoom| zoom.now));
    let closer = move |_| {
        if let Some(Zoom { min, max, now }) = able.get_untracked().zoom {
            lens.set_zoom(if now >= max { min } else { now * 2.0 });
        }
    };
    view! {
        <button class="bench quiet tool" aria-label=move || now().map(words::camera::zoom) on:click=closer>
            {move || now().map(words::camera::zoom_factor)}
        </button>
    }
}

/// The rarer tools. A voice note that is being recorded ends when they are closed, so that nothing is recorded unseen.
#[component]
fn MoreTools(lens: Lens, visit: Visit, run: CameraRun) -> impl IntoView {
    let (bench, job) = (use_selection(), visit.job());
    let left = move || bench.hand().get() == Hand::Left;
    let on = Signal::derive(move || job.get().map(NoteTarget::job));
    // Where the camera does not run, this is offered in place of the picture.
    let runs = move || !matches!(lens.state().get(), CameraState::Failed(_));
    view! {
        <div class="more-tools">
            <VoiceRecorder on/>
            {can_scan().then(|| view! { <Scan lens run/> })}
            <button class="bench quiet" aria-pressed=move || left().to_string()
                on:click=move |_| bench.change_hand()>{words::camera::left_hand()}</button>
            <Show when=runs><SystemCamera visit/></Show>
        </div>
    }
}
