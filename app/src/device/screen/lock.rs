//! The screen lock: while it is on, a repairer's device shows a helper's screen, until the PIN is typed.
//!
//! It is a lock of the screen only: it keeps nobody away from what is stored on the device. The PIN is neither in the log
//! nor in a backup. This device keeps a salt and what PBKDF2 makes of the PIN in the browser's local storage.

use leptos::prelude::*;
use wasm_bindgen::JsValue;

use super::habit::{item, keep, remove};
use crate::device::digest::pbkdf2;
use crate::pin::WrongTries;
use app_core::browser::BrowserDevice;
use app_core::browser::clock::now;
use app_core::browser::js::error_words;
use app_core::store::Surroundings;

/// The keys in the browser's local storage of the PIN (salt, space, PBKDF2 in hex), and of the wrong tries.
const PIN: &str = "waxend-screen-lock";
const TRIES: &str = "waxend-screen-lock-tries";
/// The iterations of PBKDF2.
const ITERATIONS: u32 = 200_000;

/// The screen lock of this page. Cheap to copy.
#[derive(Clone, Copy)]
pub struct ScreenLock {
    /// Whether there is a PIN.
    set: RwSignal<bool>,
    /// Whether the lock is on.
    on: RwSignal<bool>,
}

impl ScreenLock {
    /// On if there is a PIN: the page locks itself whenever it is started.
    pub(crate) fn start() -> Self {
        let set = has_pin();
        Self {
            set: RwSignal::new(set),
            on: RwSignal::new(set),
        }
    }

    /// Whether there is a PIN.
    #[must_use]
    pub fn is_set(self) -> bool {
        self.set.get()
    }

    /// Whether the lock is on.
    #[must_use]
    pub fn is_on(self) -> bool {
        self.on.get()
    }

    /// Locks the screen. Without a PIN it does nothing.
    pub fn lock(self) {
        self.look_again(true);
    }

    /// Keeps a PIN on this device, in place of the former one.
    ///
    /// # Errors
    /// Why it cannot be kept, in words for the person.
    pub async fn set_pin(self, pin: &str) -> Result<(), String> {
        let salt = BrowserDevice.uuid_v4().to_string();
        let made = derived(pin, &salt).await?;
        let kept = [&salt, " ", &made].concat();
        keep(PIN, &kept);
        if item(PIN) != kept {
            return Err(words::store::browser_keeps_no_records().to_owned());
        }
        remove(TRIES);
        self.look_again(false);
        Ok(())
    }

    /// Ends the lock if this is the PIN. The PIN stays for the next time.
    ///
    /// # Errors
    /// That it is another one, or that no try is taken now, in words for the person.
    pub async fn unlock(self, typed: &str) -> Result<(), String> {
        let kept = item(PIN);
        // Without a PIN, for example because another tab took the lock away, there is nothing to compare.
        if let Some((salt, made)) = kept.split_once(' ') {
            let tries = WrongTries::read(&item(TRIES));
            if let Some(seconds) = tries.wait(now()) {
                return Err(words::shop::lock::wait_before_next_try(seconds));
            }
            // Counted before the answer is known, so that no try goes uncounted because the page is closed meanwhile.
            keep(TRIES, &tries.and_one(now()).text());
            if derived(typed, salt).await? != made {
                return Err(words::shop::lock::wrong_pin().to_owned());
            }
        }
        remove(TRIES);
        self.look_again(false);
        Ok(())
    }

    /// Takes the lock away, with its PIN.
    pub fn take_away(self) {
        remove(PIN);
        remove(TRIES);
        self.look_again(false);
    }

    /// Turns the lock on or off, as far as there is a PIN.
    fn look_again(self, on: bool) {
        let set = has_pin();
        self.set.set(set);
        self.on.set(on && set);
    }
}

fn has_pin() -> bool {
    !item(PIN).is_empty()
}

/// What PBKDF2 makes of a PIN; the error is in words for the person.
async fn derived(pin: &str, salt: &str) -> Result<String, String> {
    let said = |thrown: JsValue| thrown.as_string().unwrap_or_else(|| error_words(&thrown));
    pbkdf2(pin, salt, ITERATIONS).await.map_err(said)
}
