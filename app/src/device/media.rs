//! Cameras and microphones: asked for, and let go of.

use js_sys::JSON;
use leptos::prelude::window;
use wasm_bindgen::{JsCast, JsValue};
use web_sys::{MediaDevices, MediaStream, MediaStreamTrack};

use app_core::browser::js::{error_name, error_words, property, settled};

/// A stream of pictures or sound. Dropping it releases the camera or microphone, and its indicator light goes out.
pub(crate) struct Stream(MediaStream);

/// Why the browser does not hand out a camera or microphone.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum NoStream {
    /// The person or the device's settings said no.
    Denied,
    /// There is none, or the page was not opened over https.
    Missing,
    /// Another app holds it.
    Busy,
    /// Anything else, in the browser's words.
    Other(String),
}

impl Stream {
    /// Asks the browser, and through it the person. `wanted` is a `MediaStreamConstraints` as JSON.
    pub(crate) async fn open(wanted: &str) -> Result<Self, NoStream> {
        let devices = property(&window().navigator(), "mediaDevices").ok_or(NoStream::Missing)?;
        Self::ask(devices.unchecked_ref(), wanted)
            .await
            .map_err(|thrown| NoStream::of(&thrown))
    }

    async fn ask(devices: &MediaDevices, wanted: &str) -> Result<Self, JsValue> {
        let wanted = JSON::parse(wanted)?;
        let asked = devices.get_user_media_with_constraints(wanted.unchecked_ref())?;
        settled(asked).await.map(Self)
    }

    /// The stream itself, for an element or a recorder.
    pub(crate) fn stream(&self) -> &MediaStream {
        &self.0
    }

    /// The only video track of a camera's stream.
    pub(crate) fn video(&self) -> Option<MediaStreamTrack> {
        self.0.get_video_tracks().get(0).dyn_into().ok()
    }
}

impl Drop for Stream {
    fn drop(&mut self) {
        for track in self.0.get_tracks() {
            track.unchecked_into::<MediaStreamTrack>().stop();
        }
    }
}

impl NoStream {
    /// Reads what `getUserMedia` throws (W3C Media Capture and Streams, 10.2; and the names of older engines).
    pub(crate) fn of(thrown: &JsValue) -> Self {
        match error_name(thrown).as_str() {
            "NotAllowedError" | "SecurityError" | "PermissionDeniedError" => Self::Denied,
            "NotFoundError" | "OverconstrainedError" | "DevicesNotFoundError" => Self::Missing,
            "NotReadableError" | "AbortError" | "TrackStartError" => Self::Busy,
            _ => Self::Other(error_words(thrown)),
        }
    }
}
