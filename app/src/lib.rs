//! The bench app and the care card.
//!
//! Built with `csr` for the browser and with `ssr` for the server (the card alone). What needs no screen is in
//! `app-core`; with neither feature, only what this crate's own tests need is left.
//!
#![doc = include_str!("../README.md")]

#[cfg(all(feature = "csr", feature = "ssr", target_arch = "wasm32"))]
compile_error!(
    "`csr` and `ssr` in one build make Leptos drop every event handler: build the app with `-p app --features csr` only"
);

#[cfg(feature = "csr")]
pub mod analytics;
#[cfg(any(feature = "csr", feature = "ssr"))]
pub mod card;
#[cfg(feature = "csr")]
pub mod device;
#[cfg(feature = "csr")]
pub mod parts;
pub mod pin;
#[cfg(any(feature = "csr", test))]
mod qr;
#[cfg(feature = "csr")]
pub mod screens;
#[cfg(feature = "csr")]
pub mod selection;
#[cfg(any(feature = "csr", feature = "ssr"))]
pub mod server_functions;
#[cfg(feature = "csr")]
pub mod session;
#[cfg(feature = "csr")]
pub mod shelf;
#[cfg(feature = "csr")]
pub mod shop;
#[cfg(feature = "csr")]
mod start;
pub mod taps;
pub mod zoom;
