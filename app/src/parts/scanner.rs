//! A small camera view for reading a tag, beside a field that asks for its number.

use leptos::html::Video;
use leptos::prelude::*;
use leptos::task::spawn_local;

use crate::device::camera::{CameraState, use_camera};
use crate::session::use_session;

/// Shows the camera until it has read a tag or is closed. The camera runs only while this is mounted.
#[component]
pub fn Scanner(
    /// Called with the text of the tag.
    read: Callback<String>,
    /// Called when this is to be closed.
    close: Callback<()>,
) -> impl IntoView {
    let session = use_session();
    let camera = use_camera();
    let looking = RwSignal::new(true);
    let video = NodeRef::<Video>::new();
    video.on_load(move |element| camera.attach(element));
    camera.start();
    spawn_local(async move {
        match camera.scan(looking.into()).await {
            Ok(Some(text)) => {
                read.try_run(text);
            }
            Ok(None) => {}
            Err(error) => {
                session.complain(error);
                close.try_run(());
            }
        }
    });
    let words = move || match camera.state().get() {
        CameraState::Failed(error) => words::parts::type_number(&error.to_string()),
        _ => words::parts::hold_tag().to_owned(),
    };
    view! {
        <div class="scanner" role="group" aria-label=words::camera::scan_tag()>
            <video node_ref=video autoplay playsinline muted aria-label=words::camera::live_picture()></video>
            <div class="row between">
                <p role="status">{words}</p>
                <button type="button" class="bench quiet" on:click=move |_| close.run(())>{words::parts::close_camera()}</button>
            </div>
        </div>
    }
}
