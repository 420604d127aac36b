//! The sync protocol, and the device's side of it.
//!
//! - [`cursor`]: how far a device has read in a server's numbering, and how a server that was set back is noticed.
//! - [`messages`]: the bodies of the HTTP requests and answers, with their limits.
//! - [`code`]: the stable codes for every reason of a refusal.
//! - [`version`]: the version of the app on a device, and which versions are too old.
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
