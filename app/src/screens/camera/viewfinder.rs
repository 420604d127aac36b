//! The live picture, or why there is none.

use leptos::html::Video;
use leptos::prelude::*;
use leptos::web_sys;
use wasm_bindgen::JsCast;

use super::ghost::Ghost;
use super::trigger::CameraTimer;
use super::visit::Visit;
use crate::device::camera::{Camera as Lens, CameraState};

/// The live picture, with the earlier photograph over it if wanted. A tap focuses there if the camera can.
#[component]
pub fn Viewfinder(
    lens: Lens,
    visit: Visit,
    /// Whether the earlier photograph lies over the picture.
    ghost: ReadSignal<bool>,
    timer: CameraTimer,
    /// What is shown at its lower edge.
    children: Children,
) -> impl IntoView {
    let video = NodeRef::<Video>::new();
    video.on_load(move |element| lens.attach(element));
    let trouble = move || match lens.state().get() {
        CameraState::Failed(error) => Some(view! {
            <div class="trouble" role="alert">
                <p>{error.to_string()}</p>
                <p>{words::camera::system_camera_files_the_same()}</p>
                <button on:click=move |_| lens.start()>{words::parts::try_again()}</button>
            </div>
        }),
        _ => None,
    };
    let counting = move || (timer.left().get() > 0).then(|| timer.left().get());
    view! {
        <div class="viewfinder">
            <video node_ref=video autoplay playsinline muted aria-label=words::camera::live_picture()
                on:click=move |event| focus(lens, &event)></video>
            <Show when=move || ghost.get()><Ghost visit/></Show>
            <p class="seconds" aria-hidden="true">{counting}</p>
            {trouble}
            {children()}
        </div>
    }
}

/// Focuses where the picture was touched.
fn focus(lens: Lens, event: &web_sys::MouseEvent) {
    let target = event.target();
    let Some(video) = target
        .as_ref()
        .and_then(|target| target.dyn_ref::<web_sys::Element>())
    else {
        return;
    };
    let part = |at: i32, of: i32| f64::from(at) / f64::from(of.max(1));
    lens.focus_at(
        part(event.offset_x(), video.client_width()),
        part(event.offset_y(), video.client_height()),
    );
}
