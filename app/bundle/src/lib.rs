//! The bundler: from the compiled wasm to `app/dist`, which the server serves and a phone keeps.
//!
//! [`split`] cuts the later screens out of the app, [`bind`] makes code a browser can load, [`site`] names every file after its content and tells the service
//! worker what the build consists of, [`dist`] writes and compresses it, [`sizes`] holds it to its budget.

pub mod bind;
pub mod digest;
pub mod dist;
pub mod error;
pub mod icon;
pub mod pages;
pub mod site;
pub mod sizes;
pub mod split;
