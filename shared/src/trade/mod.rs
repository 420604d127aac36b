//! The trade: its words and its norms.

pub mod operations;

pub use operations::{Operation, Station, operation};
