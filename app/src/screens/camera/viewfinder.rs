//! The live picture, or why there is none.

use leptos::html::Video;
use leptos::prelude::*;
use leptos::web_sys;

use super::ghost::Ghost;
use super::system_camera::SystemCamera;
use super::timer::CameraTimer;
use super::visit::Visit;
use crate::device::camera::{Camera as Lens, CameraState};
use crate::zoom::{Extent, FramePoint};

/// The live picture, uncropped, with the earlier photograph over it if wanted. Dashed lines mark the part of 3:2 that lists
/// show. A tap focuses there if the camera can.
#[component]
pub fn Viewfinder(
    lens: Lens,
    visit: Visit,
    /// Whether the earlier photograph lies over the picture.
    ghost: ReadSignal<bool>,
    timer: CameraTimer,
    /// What lies on it.
    children: Children,
) -> impl IntoView {
    let video = NodeRef::<Video>::new();
    video.on_load(move |element| lens.attach(element));
    let size = RwSignal::new(Extent::default());
    let measure = move || {
        if let Some(video) = video.get_untracked() {
            size.set(Extent {
                width: f64::from(video.video_width()),
                height: f64::from(video.video_height()),
            });
        }
    };
    let live = Memo::new(move |_| lens.state().get() == CameraState::Live);
    Effect::new(move |_| {
        if live.get() {
            measure();
        }
    });
    let shape = move || {
        let Extent { width, height } = size.get();
        (width > 0.0 && height > 0.0).then_some(width / height)
    };
    let trouble = move || match lens.state().get() {
        CameraState::Failed(error) => Some(view! {
            <div class="trouble" role="alert">
                <p>{error.to_string()}</p>
                <p>{words::camera::system_camera_files_the_same()}</p>
                <SystemCamera visit/>
                <button on:click=move |_| lens.start()>{words::parts::try_again()}</button>
            </div>
        }),
        _ => None,
    };
    let counting = move || (timer.left().get() > 0).then(|| view! { <span>{timer.left().get()}</span> });
    view! {
        <div class="viewfinder">
            <video node_ref=video autoplay playsinline muted aria-label=words::camera::live_picture()
                on:resize=move |_| measure() on:click=move |event| focus(lens, size.get_untracked(), &event)></video>
            <Show when=move || ghost.get()><Ghost visit/></Show>
            <Show when=move || live.get() && shape().is_some()>
                <span class="cut" aria-hidden="true" style=("--shape", move || shape().unwrap_or(1.0).to_string())></span>
            </Show>
            <p class="seconds" aria-hidden="true">{counting}</p>
            {trouble}
            {children()}
        </div>
    }
}

/// Focuses where the picture, of this size, was touched.
fn focus(lens: Lens, size: Extent, event: &web_sys::MouseEvent) {
    let target = event.target();
    let Some(video) = target
        .as_ref()
        .and_then(|target| wasm_bindgen::JsCast::dyn_ref::<web_sys::Element>(target))
    else {
        return;
    };
    let frame = Extent {
        width: f64::from(video.client_width()),
        height: f64::from(video.client_height()),
    };
    let at = FramePoint {
        x: f64::from(event.offset_x()),
        y: f64::from(event.offset_y()),
    };
    let (x, y) = size.share_at(frame, at);
    lens.focus_at(x, y);
}
