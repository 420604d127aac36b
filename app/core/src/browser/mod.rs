//! What the core needs of a browser: its clock and chance for the store, and bridges to its interface. With the
//! feature `browser` only.

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
