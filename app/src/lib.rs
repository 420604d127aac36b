//! The bench app and the care card.
//!
//! Built three ways: with `csr` for the browser, with `ssr` for the server (the card alone), and with neither
//! for tests of the rooms that need no browser, above all [`device::store`].

#[cfg(all(feature = "csr", feature = "ssr", target_arch = "wasm32"))]
compile_error!(
    "`csr` and `ssr` in one build make Leptos drop every event handler: build the app with `-p app --features csr` only"
);

pub mod acts;
#[cfg(any(feature = "csr", feature = "ssr"))]
pub mod card;
pub mod device;
pub mod doings;
#[cfg(feature = "csr")]
pub mod learnt;
pub mod life;
#[cfg(feature = "csr")]
pub mod parts;
#[cfg(any(feature = "csr", test))]
mod qr;
#[cfg(any(feature = "csr", feature = "ssr"))]
pub mod questions;
pub mod reckoning;
#[cfg(feature = "csr")]
pub mod screens;
#[cfg(feature = "csr")]
pub mod shop;
#[cfg(all(feature = "csr", not(feature = "contract")))]
mod start;
pub mod stations;
pub mod taps;
#[cfg(feature = "csr")]
pub mod workbench;
#[cfg(feature = "csr")]
pub mod workshop;
