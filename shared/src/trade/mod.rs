//! The trade: its words and its norms.
//!
//! Everything here is a starting value that a shop's own history or settings replace.

pub mod kinds;
pub mod operations;
pub mod waits;
mod words;

pub use kinds::{Class, Goods};
pub use operations::{Operation, Station, operation};
pub use waits::{Holds, Minutes, UsualWait, WaitKind};
