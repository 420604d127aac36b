//! The rules without HTTP: what every store must do, and outside checks.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on should stop")]

mod circles;
mod outside;
mod papers;
mod source;
mod stores;
