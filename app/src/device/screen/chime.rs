//! Two short notes, made by the browser: no sound file to load.

use leptos::leptos_dom::helpers::window;
use wasm_bindgen::JsValue;
use web_sys::{AudioContext, AudioContextState};

use crate::device::listen::Listener;

/// Pitch in Hz, and start in seconds: a fifth upwards, which can be heard over a finishing machine.
const NOTES: [(f32, f64); 2] = [(880.0, 0.0), (1318.5, 0.09)];
/// How long a note takes to die away, in seconds.
const FADE: f64 = 0.12;
/// From 0 to 1.
const LOUDNESS: f32 = 0.4;

/// The sound that says "saved".
pub(super) struct Chime {
    context: AudioContext,
    _unlock: [Listener; 2],
}

impl Chime {
    /// Prepares it. `None` in a browser without sound.
    pub(super) fn new() -> Option<Self> {
        let context = AudioContext::new().ok()?;
        // Browsers mute a page until the person has tapped or pressed a key.
        let unlock = ["pointerup", "keydown"].map(|event| {
            let context = context.clone();
            Listener::on(&window(), event, move |_| {
                if context.state() != AudioContextState::Running {
                    drop(context.resume());
                }
            })
        });
        Some(Self {
            context,
            _unlock: unlock,
        })
    }

    /// Plays it, unless the page is still silent.
    pub(super) fn play(&self) {
        if self.context.state() == AudioContextState::Running {
            for (pitch, after) in NOTES {
                // A note that cannot be played does no harm: the flash says the same.
                drop(self.note(pitch, self.context.current_time() + after));
            }
        }
    }

    fn note(&self, pitch: f32, at: f64) -> Result<(), JsValue> {
        let (tone, loudness) = (self.context.create_oscillator()?, self.context.create_gain()?);
        tone.frequency().set_value(pitch);
        loudness.gain().set_value_at_time(LOUDNESS, at)?;
        loudness
            .gain()
            .exponential_ramp_to_value_at_time(0.001, at + FADE)?;
        tone.connect_with_audio_node(&loudness)?;
        loudness.connect_with_audio_node(&self.context.destination())?;
        tone.start_with_when(at)?;
        tone.stop_with_when(at + FADE)
    }
}

impl Drop for Chime {
    fn drop(&mut self) {
        drop(self.context.close());
    }
}
