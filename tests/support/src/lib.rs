//! Shared code of the tests.
//!
//! - [`memory`]: a store, a photo folder and a ledger in memory, cheap to make, whose former states can be put back
//!   without the server noticing.
//! - [`world`]: a clock that a test sets, and random numbers from a seed.
//! - [`contract`]: what every store must do, run on each of them.
//! - [`sample`]: entries and pictures to push. [`every`]: one stay that uses every kind of entry.
//! - [`running`]: the real binary on a free port, and a plain client for it.

#![allow(missing_docs, reason = "names say it; the modules say why")]
#![allow(clippy::unwrap_used, reason = "a test that cannot go on should stop")]

pub mod contract;
pub mod every;
pub mod memory;
pub mod running;
pub mod sample;
pub mod world;
