//! The reader against codes that other libraries draw, seen as a hand-held camera sees them.

#![allow(clippy::unwrap_used, reason = "a helper that fails fails the test")]

mod bars;
mod nothing;
mod scene;
mod square;
