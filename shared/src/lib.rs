//! The domain of Waxend, shared by the phone and the server.
//!
//! Everything here is pure: no clock, no I/O and no randomness of its own, so that the same code folds a
//! shop's records in a browser, on a server and in a simulation of ten phones with broken clocks.
//!
//! - [`log`][]: what an entry is, how entries are ordered, merged, replaced, retracted, erased and folded.
//! - [`sync`][]: what a device and a server say to each other, and the machine that decides what to say next.
//! - [`trade`][]: the trade's words and norms.
//! - [`price`][]: money.
//! - [`shelf`][]: the materials on the shelf.
//! - [`plan`][]: the bench plan.
//! - [`week`][]: the shop's own week, for the bench plan.
//! - [`wear`][]: how long parts last.
//! - [`analytics`][]: what a phone asks of all its records at once.
//! - [`text`][]: texts that may be empty, and texts that are compared.
//! - [`csv`][]: files for spreadsheets.

pub mod analytics;
pub mod csv;
pub mod log;
pub mod plan;
pub mod price;
pub mod shelf;
pub mod sync;
pub mod text;
pub mod trade;
pub mod wear;
pub mod week;
