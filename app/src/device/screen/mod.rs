//! The screen and its user: keeping the screen on, the sign that something is saved, the handling of taps, the hand that
//! holds the device, and the screen lock.

mod awake;
mod chime;
mod focus;
mod habit;
mod lock;
mod sign;
mod taps;
mod ticking;

pub use awake::use_awake;
pub use focus::focus;
pub use habit::{Hand, has_read, keep_language, note_read, speak_kept_language};
pub use lock::ScreenLock;
pub use sign::SavedSign;
pub use taps::{Write, watch as watch_taps, when_lifted};
pub use ticking::use_now;

use leptos::prelude::window;

/// Opens the system's print dialog for the page as it is. Does nothing where there is none.
pub fn print() {
    drop(window().print());
}
