//! The timer of the camera, which takes a photograph some seconds after the tap.

use std::time::Duration;

use leptos::prelude::*;

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
    pub fn fire(self, shoot: impl Fn() + Copy + 'static) {
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
