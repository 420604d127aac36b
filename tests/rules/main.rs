//! Tests without HTTP: the contract of stores, join codes and tokens under wrong clocks, published values, and rules of
//! the sources and of their documentation.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on should stop")]

mod circles;
mod codes;
mod outside;
mod papers;
mod sentences;
mod source;
mod stores;
mod tokens;
