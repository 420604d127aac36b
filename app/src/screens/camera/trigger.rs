//! The shutter: the lower part of the screen, a key, a remote control or a pedal; at once or after three seconds.

use std::time::Duration;

use leptos::html::Button;
use leptos::prelude::*;
use leptos::web_sys;
use shared::log::SubjectId;
use shared::log::fold::{JobLine, Summary};

use super::visit::{Visit, named};
use crate::device::camera::{Camera as Lens, CameraState};
use crate::parts::{Face, camera_icon};

/// The delay of the timer, in seconds.
const SECONDS: u32 = 3;

/// The timer, for taking a photograph while both hands hold the shoe. Cheap to copy.
#[derive(Clone, Copy)]
pub struct CameraTimer {
    set: RwSignal<bool>,
    left: RwSignal<u32>,
    turn: StoredValue<u32>,
}

impl CameraTimer {
    /// Switched off.
    pub fn new() -> Self {
        Self {
            set: RwSignal::new(false),
            left: RwSignal::new(0),
            turn: StoredValue::new(0),
        }
    }

    /// Whether the timer is switched on.
    pub fn set(self) -> RwSignal<bool> {
        self.set
    }

    /// Seconds left until the photograph is taken; 0 if the timer is not running.
    pub fn left(self) -> ReadSignal<u32> {
        self.left.read_only()
    }

    /// Cancels a running timer.
    pub fn stop(self) {
        self.left.set(0);
        self.turn.update_value(|turn| *turn += 1);
    }

    /// Calls `shoot` at once, or after the delay if the timer is on. If the timer is running already, cancels it.
    fn fire(self, shoot: impl Fn() + Copy + 'static) {
        if self.left.get_untracked() > 0 {
            self.stop();
        } else if self.set.get_untracked() {
            self.left.set(SECONDS);
            self.count(self.turn.get_value(), shoot);
        } else {
            shoot();
        }
    }

    fn count(self, turn: u32, shoot: impl Fn() + Copy + 'static) {
        let second = move || {
            // Cancelled, or the screen has gone.
            if self.turn.try_get_value() != Some(turn) {
                return;
            }
            self.left.update(|left| *left -= 1);
            if self.left.get_untracked() == 0 {
                shoot();
            } else {
                self.count(turn, shoot);
            }
        };
        set_timeout(second, Duration::from_secs(1));
    }
}

/// The shutter button, with the pair's thumbnail and number on it.
#[component]
pub fn Trigger(lens: Lens, visit: Visit, timer: CameraTimer) -> impl IntoView {
    let button = NodeRef::<Button>::new();
    let line = visit.line();
    let face = Signal::derive(move || line.with(|line| line.as_ref()?.0.face.clone()));
    let job: Signal<Option<SubjectId>> = visit.job();
    let name = Memo::new(move |_| {
        let named = |(summary, line): &_| named(summary, line);
        line.with(|line| line.as_ref().map(named))
            .unwrap_or_else(|| words::camera::this_pair().to_owned())
    });
    // The number alone would not tell which of several pairs it is.
    let title = Memo::new(move |_| {
        let numbered =
            |(summary, line): &(Summary, JobLine)| (!line.tag.is_empty()).then(|| summary.title.clone());
        line.with(|line| line.as_ref().and_then(numbered))
    });
    let label = move || {
        let seen = [name.get(), title.get().unwrap_or_default()].join(" ");
        words::camera::photograph(seen.trim_end())
    };
    let ready = Memo::new(move |_| lens.state().get() == CameraState::Live && job.get().is_some());
    let shoot = move || {
        // Checked again, because timers and keys do not go through the button's disabled state.
        if ready.get_untracked() {
            match lens.shoot() {
                Ok(exposure) => visit.keep(exposure.develop()),
                Err(error) => visit.complain(error),
            }
        }
    };
    keys(move || timer.fire(shoot), button);
    // The shutter gets the focus, so that a pedal that sends Enter presses it and not the button tapped last.
    Effect::new(move |_| {
        if ready.get()
            && let Some(button) = button.get_untracked()
        {
            drop(button.focus());
        }
    });
    let counting = move || timer.left().get() > 0;
    view! {
        <button node_ref=button class="shutter" data-again="" disabled=move || !ready.get() on:click=move |_| timer.fire(shoot)
            aria-label=label>
            <Face of=face on=job alt=""/>
            <span class="who"><strong>{name}</strong>" "<small>{title}</small></span>
            {camera_icon()}
            <Show when=counting><strong class="count-down" role="timer">{move || timer.left().get()}</strong></Show>
        </button>
    }
}

/// Calls `fire` for Space and Enter, and for the keys that Bluetooth remotes and pedals send.
fn keys(fire: impl Fn() + 'static, shutter: NodeRef<Button>) {
    let listening = window_event_listener(leptos::ev::keydown, move |event| {
        let target = event.target();
        let to = target
            .as_ref()
            .and_then(|target| wasm_bindgen::JsCast::dyn_ref::<web_sys::Element>(target));
        let on = |tags: &[&str]| to.is_some_and(|to| tags.contains(&to.tag_name().as_str()));
        let on_shutter = shutter
            .get_untracked()
            .is_some_and(|button| to == Some(button.as_ref()));
        let meant = match event.key().as_str() {
            // Buttons and lists have no use for these keys.
            "AudioVolumeUp" | "PageDown" => !on(&["INPUT", "TEXTAREA"]),
            // Only where the focus is on the shutter or on nothing that uses these keys.
            " " | "Enter" => on_shutter || !on(&["INPUT", "TEXTAREA", "SELECT", "BUTTON", "A", "SUMMARY"]),
            _ => false,
        };
        if meant {
            event.prevent_default();
            // A key held down takes one photograph.
            if !event.repeat() {
                fire();
            }
        }
    });
    on_cleanup(move || listening.remove());
}
