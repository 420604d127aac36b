//! Reading a tag or stub with the camera.

use leptos::prelude::*;
use web_sys::{HtmlMediaElement, HtmlVideoElement};

use super::Camera;
use super::reader::{NoReader, Reader};
use app_core::browser::js::{pause, property};

/// The time between two frames that are looked at, in ms: people hold a code still for longer than that.
const GLANCE_MS: i32 = 200;

/// Whether there can be a camera to scan with: not on a page that was opened without https.
#[must_use]
pub fn can_scan() -> bool {
    property(&window().navigator(), "mediaDevices").is_some()
}

impl Camera {
    /// Looks for a code in the camera's frames until one is found, and returns its text; `None` once `wanted` is false.
    ///
    /// # Errors
    /// [`NoReader`] if neither the browser nor the app has anything here that reads codes.
    pub async fn scan(self, wanted: Signal<bool>) -> Result<Option<String>, NoReader> {
        let mut reader = Reader::find().await?;
        while wanted.try_get_untracked() == Some(true) {
            if let Some(video) = self.in_view() {
                match reader.look(&video).await {
                    Ok(None) => {}
                    Ok(text) => return Ok(text),
                    // On some phones the browser's reader exists but always fails.
                    Err(_) => reader = Reader::ours().await?,
                }
            }
            pause(GLANCE_MS).await;
        }
        Ok(None)
    }

    /// The element that shows the camera, once there is a frame in it.
    fn in_view(self) -> Option<HtmlVideoElement> {
        let video = self.inner.try_with_value(|inner| inner.video.clone()).flatten()?;
        (video.ready_state() >= HtmlMediaElement::HAVE_CURRENT_DATA).then_some(video)
    }
}
