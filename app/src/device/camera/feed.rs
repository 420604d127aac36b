//! A running camera: the stream, and frames from it.

use js_sys::JSON;
use leptos::task::spawn_local;
use wasm_bindgen::{JsCast, JsValue};
use web_sys::{HtmlMediaElement, HtmlVideoElement, MediaStreamTrack};

use super::{CameraError, Lens};
use crate::device::listen::Listener;
use crate::device::media::{NoStream, Stream};
use crate::device::picture::Exposure;
use app_core::browser::js::{error_name, method, settled};

/// The camera at the back, at the size that is kept. Zoom is not asked for here: a desktop browser would ask the
/// person for the right to move the camera, and refuse the camera with it.
const WANTED: &str = r#"{"audio":false,"video":{"facingMode":{"ideal":"environment"},"width":{"ideal":2048},"height":{"ideal":1536}}}"#;

/// An open camera. Dropping it lets go of the camera.
pub(super) struct Feed {
    stream: Stream,
    track: MediaStreamTrack,
    lost: Option<Listener>,
}

impl Feed {
    /// Asks the browser, and through it the person, for the camera.
    pub(super) async fn open() -> Result<Self, CameraError> {
        let stream = Stream::open(WANTED).await?;
        let track = stream.video().ok_or(CameraError::Missing)?;
        Ok(Self {
            stream,
            track,
            lost: None,
        })
    }

    /// Calls back when the system takes the camera away.
    pub(super) fn on_lost(&mut self, mut act: impl FnMut() + 'static) {
        self.lost = Some(Listener::on(&self.track, "ended", move |_| act()));
    }

    /// Begins to show the camera; the future ends when frames are in view.
    pub(super) fn show(
        &self,
        video: &HtmlVideoElement,
    ) -> impl Future<Output = Result<(), CameraError>> + use<> {
        // Without these two iOS opens its own full-screen player, or nothing at all.
        video.set_muted(true);
        drop(video.set_attribute("playsinline", ""));
        video.set_src_object(Some(self.stream.stream()));
        let playing = video.play();
        async {
            let playing = async { settled::<JsValue>(playing?).await };
            match playing.await {
                Ok(_) => Ok(()),
                // Another start or stop interrupted this one and decides what happens.
                Err(thrown) if error_name(&thrown) == "AbortError" => Ok(()),
                Err(thrown) => Err(NoStream::of(&thrown).into()),
            }
        }
    }

    /// Takes the frame in view.
    pub(super) fn take(&self, video: &HtmlVideoElement) -> Result<Exposure, CameraError> {
        // A muted track keeps showing its last frame, which is not what the camera sees now.
        if self.track.muted() || video.ready_state() < HtmlMediaElement::HAVE_CURRENT_DATA {
            return Err(CameraError::NotReady);
        }
        Ok(Exposure::of_video(video.clone())?)
    }

    /// What this camera can do.
    pub(super) fn lens(&self) -> Lens {
        method(&self.track, "getCapabilities")
            .and_then(|ask| ask.call0(&self.track).ok())
            .map_or_else(Lens::default, |can| Lens::of(&can))
    }

    /// Applies the settings of the lens. A camera that does not support one of them stays as it is.
    pub(super) fn apply(&self, lens: Lens) {
        let Ok(constraints) = JSON::parse(&lens.constraints()) else {
            return;
        };
        if let Ok(promise) = self
            .track
            .apply_constraints_with_constraints(constraints.unchecked_ref())
        {
            spawn_local(async move { drop(settled::<JsValue>(promise).await) });
        }
    }
}
