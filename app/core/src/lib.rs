//! The core of the bench app: what it does, without the screens.
//!
//! - [`commands`]: what a repairer does, as the entries it writes.
//! - [`pair_history`], [`stations`], [`calc`]: what screens show, derived from folded records; [`field_words`]: a plain
//!   field in words.
//! - [`undo`]: what was done on this device and can be undone.
//! - [`take_out`]: everything as files that other programs read.
//! - [`store`]: everything the device knows, complete without a network; [`sync`]: one round with the server.
//! - `browser` (a feature): IndexedDB, the clock and random numbers of a real page.
//!
//! It does not use Leptos: the simulation, the store's contract page and this crate's tests build without it.

#[cfg(feature = "browser")]
pub mod browser;
pub mod calc;
pub mod commands;
pub mod field_words;
pub mod pair_history;
pub mod stations;
pub mod store;
pub mod sync;
pub mod take_out;
pub mod undo;
