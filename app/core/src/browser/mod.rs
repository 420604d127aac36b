//! What the core needs of a browser: the clock and random numbers for the store, and helpers for its JavaScript
//! interface. Only with the feature `browser`.

pub mod clock;
mod device;
pub mod js;

pub use device::BrowserDevice;

/// The page's window.
#[expect(
    clippy::expect_used,
    reason = "the app runs in a page; without one there is nobody to tell"
)]
pub fn window() -> web_sys::Window {
    web_sys::window().expect("the app runs in a page")
}
