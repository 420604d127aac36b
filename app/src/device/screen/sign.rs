//! The sign that something is saved: a flash of the whole screen, a vibration and a sound.

use std::time::Duration;

use leptos::prelude::*;
use wasm_bindgen::JsValue;

use super::chime::Chime;
use app_core::browser::js::method;

/// How long the screen flashes.
const FLASH: Duration = Duration::from_millis(180);
/// How long the phone buzzes, in ms.
const BUZZ_MS: f64 = 60.0;

/// The sign. Cheap to copy; ends with the reactive owner that made it.
#[derive(Clone, Copy)]
pub struct SavedSign {
    flashing: RwSignal<bool>,
    chime: StoredValue<Option<Chime>, LocalStorage>,
}

impl SavedSign {
    /// Prepares it for the current screen.
    #[must_use]
    pub fn new() -> Self {
        Self {
            flashing: RwSignal::new(false),
            chime: StoredValue::new_local(Chime::new()),
        }
    }

    /// True for a moment after each [`SavedSign::show`].
    #[must_use]
    pub fn flashing(self) -> Signal<bool> {
        self.flashing.into()
    }

    /// Gives the sign. Call it only when the thing is stored on the device. Does nothing after its screen has gone.
    pub fn show(self) {
        if self.flashing.try_set(true).is_some() {
            return;
        }
        set_timeout(
            move || {
                self.flashing.try_set(false);
            },
            FLASH,
        );
        self.chime.try_with_value(|chime| {
            if let Some(chime) = chime {
                chime.play();
            }
        });
        buzz();
    }
}

impl Default for SavedSign {
    fn default() -> Self {
        Self::new()
    }
}

/// Vibrates, where the browser can: Apple's phones cannot.
fn buzz() {
    let navigator = window().navigator();
    if let Some(vibrate) = method(&navigator, "vibrate") {
        drop(vibrate.call1(&navigator, &JsValue::from_f64(BUZZ_MS)));
    }
}
