//! What a device and a server say to each other, and what the device should say next.
//!
//! - [`cursor`]: where a device stands in a server's numbering, and how a rolled-back server is noticed.
//! - [`messages`]: the bodies of the HTTP requests and answers, with their limits.
//! - [`code`]: the stable words for everything that can be refused.
//! - [`version`]: which app a device runs, and which are too old.
//! - [`machine`]: the device's side as a state machine without I/O.
//!
#![doc = include_str!("README.md")]

pub mod code;
pub mod cursor;
pub mod machine;
pub mod messages;
pub mod version;

pub use code::{Code, Problem};
pub use cursor::{Cursor, HistoryMark};
