//! The phone's store, over a database in memory: one program, so that it is linked once.

#![allow(clippy::unwrap_used, reason = "a helper that fails fails the test")]

mod backup;
mod blanks;
mod common;
mod exchange;
mod landed;
mod properties;
mod saving;
mod versions;
