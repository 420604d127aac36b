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
        CameraState::Failed(error) => format!("{error}. Type the number."),
        _ => "Hold the tag before the camera: its number is filled in.".to_owned(),
    };
    view! {
        <div class="scanner" role="group" aria-label="Scan a tag">
            <video node_ref=video autoplay playsinline muted aria-label="What the camera sees"></video>
            <div class="row between">
                <p role="status">{words}</p>
                <button type="button" class="bench quiet" on:click=move |_| close.run(())>"Close the camera"</button>
            </div>
        </div>
    }
}
