//! Reading a tag or stub with the camera, in browsers that bring a reader of their own.

use js_sys::{Array, Function, Reflect};
use leptos::prelude::*;
use wasm_bindgen::{JsCast, JsValue};
use web_sys::HtmlVideoElement;

use super::Camera;
use crate::device::js::{method, pause, property, settled};

/// The browser's reader (WICG Shape Detection API).
const READER: &str = "BarcodeDetector";
/// Between two looks, in ms: a code is held still for longer.
const GLANCE_MS: i32 = 200;

/// Whether this browser can read codes at all.
#[must_use]
pub fn can_scan() -> bool {
    property(&window(), READER).is_some()
}

impl Camera {
    /// Looks for a code until one is in view, and returns its text. `None` once nobody `wanted` it any more.
    pub async fn scan(self, wanted: Signal<bool>) -> Option<String> {
        let reader = Reader::new()?;
        while wanted.try_get_untracked() == Some(true) {
            let video = self.inner.try_with_value(|inner| inner.video.clone()).flatten();
            if let Some(video) = video
                && let Some(text) = reader.look(&video).await
            {
                return Some(text);
            }
            pause(GLANCE_MS).await;
        }
        None
    }
}

struct Reader(JsValue);

impl Reader {
    fn new() -> Option<Self> {
        let class = property(&window(), READER)?;
        Reflect::construct(class.unchecked_ref::<Function>(), &Array::new())
            .ok()
            .map(Self)
    }

    /// The first code in view. A frame that cannot be read is one without a code.
    async fn look(&self, video: &HtmlVideoElement) -> Option<String> {
        let looked = method(&self.0, "detect")?.call1(&self.0, video).ok()?;
        let codes: Array = settled(looked.unchecked_into()).await.ok()?;
        property(&codes.get(0), "rawValue")?.as_string()
    }
}
