//! Tools that are needed now and then: timer, earlier photograph, lamp, zoom, voice note, scan, other hand, the phone's
//! own camera.

use leptos::html::Input;
use leptos::prelude::*;

use super::run::CameraRun;
use super::scan::Scan;
use super::trigger::CameraTimer;
use super::visit::Visit;
use crate::device::camera::{Camera as Lens, Torch, Zoom, can_scan};
use crate::device::picture::from_file;
use crate::device::screen::Hand;
use crate::parts::VoiceRecorder;
use crate::selection::use_selection;
use app_core::commands::notes::NoteTarget;

/// One row that can be swiped. What this camera or browser cannot do is left out.
#[component]
pub fn Tools(
    lens: Lens,
    visit: Visit,
    ghost: RwSignal<bool>,
    timer: CameraTimer,
    run: CameraRun,
) -> impl IntoView {
    let bench = use_selection();
    let (free, finished) = (visit.free(), visit.finished());
    let able = lens.lens();
    let torch = move || {
        able.get().torch.map(|torch| {
            let lit = torch == Torch::On;
            let other = if lit { Torch::Off } else { Torch::On };
            toggle(words::camera::light(), lit, move || lens.set_torch(other))
        })
    };
    let zoom = move || able.get().zoom.map(|zoom| closer(lens, zoom));
    let left = move || bench.hand().get() == Hand::Left;
    let job = visit.job();
    let on = Signal::derive(move || job.get().map(NoteTarget::job));
    view! {
        <div class="tools" role="group" aria-label=words::camera::camera()>
            {move || free.get().then(|| toggle(words::camera::finished_pair(), finished.get(), move || finished.update(|on| *on = !*on)))}
            {move || toggle(words::camera::timer(), timer.set().get(), move || timer.set().update(|set| *set = !*set))}
            {move || toggle(words::camera::ghost(), ghost.get(), move || ghost.update(|on| *on = !*on))}
            {torch}
            {zoom}
            <VoiceRecorder on/>
            {can_scan().then(|| view! { <Scan lens run/> })}
            {move || toggle(words::camera::left_hand(), left(), move || bench.change_hand())}
            <SystemCamera visit/>
        </div>
    }
}

fn toggle(words: &'static str, on: bool, act: impl Fn() + 'static) -> impl IntoView {
    view! { <button class="bench quiet" aria-pressed=on.to_string() on:click=move |_| act()>{words}</button> }
}

/// A button that doubles the zoom, up to the closest, and then returns to the widest.
fn closer(lens: Lens, zoom: Zoom) -> impl IntoView {
    let next = if zoom.now >= zoom.max {
        zoom.min
    } else {
        zoom.now * 2.0
    };
    let words = words::camera::zoom(zoom.now);
    view! { <button class="bench quiet" on:click=move |_| lens.set_zoom(next)>{words}</button> }
}

/// For when the page may not use the camera: a photograph by the phone's own camera app.
#[component]
fn SystemCamera(visit: Visit) -> impl IntoView {
    let input = NodeRef::<Input>::new();
    let taken = move |_| {
        let Some(element) = input.get() else { return };
        let Some(files) = element.files() else { return };
        for file in (0..files.length()).filter_map(|index| files.get(index)) {
            visit.keep(async move { from_file(&file).await });
        }
        // So that the same file can be chosen again.
        element.set_value("");
    };
    view! {
        <label class="file">
            {words::camera::system_camera()}
            <input node_ref=input type="file" accept="image/*" capture="environment" multiple
                disabled=move || visit.job().get().is_none() on:change=taken/>
        </label>
    }
}
