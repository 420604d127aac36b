//! What a camera can do besides taking pictures: lamp, zoom, focus. Controls are shown only for what it supports.

use js_sys::Array;
use wasm_bindgen::JsValue;

use app_core::browser::js::property;

/// The lamp beside the lens.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Torch {
    /// On.
    On,
    /// Off.
    Off,
}

/// A zoom, in the camera's own factors.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Zoom {
    /// The widest.
    pub min: f64,
    /// The closest.
    pub max: f64,
    /// As it is set now.
    pub now: f64,
}

impl Zoom {
    /// The same range, set to `factor` or as near as the camera goes.
    #[must_use]
    pub fn to(self, factor: f64) -> Self {
        Self {
            now: factor.max(self.min).min(self.max),
            ..self
        }
    }
}

/// What a camera can do, and how it is set.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Lens {
    /// The lamp, if it has one.
    pub torch: Option<Torch>,
    /// The zoom, if it has one.
    pub zoom: Option<Zoom>,
    /// Whether it focuses where it is told.
    pub focuses: bool,
    /// Where it was told to focus.
    focus: Option<(f64, f64)>,
}

impl Lens {
    /// Reads a track's capabilities (W3C Image Capture).
    pub(super) fn of(can: &JsValue) -> Self {
        let torch = property(can, "torch").filter(|torch| *torch != JsValue::FALSE);
        Self {
            torch: torch.map(|_| Torch::Off),
            zoom: property(can, "zoom").and_then(|range| zoom(&range)),
            focuses: property(can, "focusMode")
                .is_some_and(|modes| Array::from(&modes).includes(&JsValue::from_str("single-shot"), 0)),
            focus: None,
        }
    }

    pub(super) fn focus_at(&mut self, x: f64, y: f64) {
        if self.focuses {
            self.focus = Some((x.clamp(0.0, 1.0), y.clamp(0.0, 1.0)));
        }
    }

    /// The settings as JSON for `applyConstraints`. All of them are given each time, because a browser resets those
    /// that are left out.
    pub(super) fn constraints(&self) -> String {
        let mut advanced = Vec::new();
        if let Some(torch) = self.torch {
            advanced.push(format!(r#"{{"torch":{}}}"#, torch == Torch::On));
        }
        if let Some(zoom) = self.zoom {
            advanced.push(format!(r#"{{"zoom":{}}}"#, zoom.now));
        }
        if let Some((x, y)) = self.focus {
            advanced.push(format!(
                r#"{{"focusMode":"single-shot","pointsOfInterest":[{{"x":{x},"y":{y}}}]}}"#
            ));
        }
        format!(
            r#"{{"width":{{"ideal":2048}},"height":{{"ideal":1536}},"advanced":[{}]}}"#,
            advanced.join(",")
        )
    }
}

fn zoom(range: &JsValue) -> Option<Zoom> {
    let end = |name| property(range, name)?.as_f64();
    let (min, max) = (end("min")?, end("max")?);
    // Some cameras report a zoom range whose ends are equal: they cannot zoom.
    (max > min).then(|| Zoom {
        min,
        max,
        now: min.max(1.0).min(max),
    })
}
