//! The trade: its words and its norms.
//!
//! Everything here is a starting value that a shop's own history or settings replace.

pub mod came_with;
pub mod component;
pub mod condition;
pub mod construction;
pub mod kinds;
pub mod operations;
pub mod prices;
pub mod waits;
mod words;

pub use came_with::CameWith;
pub use component::{Component, Drawing};
pub use condition::{Condition, conditions, remedies};
pub use construction::{Construction, SoleHeldBy};
pub use kinds::{Class, Goods};
pub use operations::{Operation, Station, operation};
pub use waits::{Holds, Minutes, UsualWait, WaitKind};
