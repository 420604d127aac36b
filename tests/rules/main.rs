//! Tests without HTTP: the contract of stores, join codes and tokens under wrong clocks, what a helper's device may send for
//! others, how much a shop erases in a day, published values, and rules of the sources, of their documentation and of the libraries.

#![allow(clippy::unwrap_used, reason = "a test that cannot go on should stop")]

mod cards;
mod circles;
mod codes;
mod dependencies;
mod erasing;
mod helping;
mod outside;
mod papers;
mod sentences;
mod source;
mod stores;
mod tokens;
mod usage;
