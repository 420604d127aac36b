//! The phone in the hand: it stays awake at the bench, and says with light, sound and a buzz that something is saved.

mod awake;
mod chime;
mod focus;
mod sign;

pub use awake::use_awake;
pub use focus::focus;
pub use sign::SavedSign;

use leptos::prelude::window;

/// Opens the system's print dialog for the page as it is. Does nothing where there is none.
pub fn print() {
    drop(window().print());
}
