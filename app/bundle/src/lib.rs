//! The bundler: from the compiled wasm to `app/dist`, the files that the server serves and a phone stores.
//!
//! [`split`] cuts the later screens out of the app, [`bind`] makes files that a browser can load, [`site`] names every
//! file by its content and lists the build's files for the service worker, [`dist`] writes and compresses the files,
//! and [`sizes`] checks them against the budgets.

pub mod bind;
pub mod digest;
pub mod dist;
pub mod error;
pub mod icon;
pub mod pages;
pub mod site;
pub mod sizes;
pub mod split;
