//! Connections: how many there may be, how long they may take, and which one goes when another needs its place.
//!
//! A connection counts from the moment it is accepted, before TLS. It comes to an end by itself when it takes too long
//! ([`Waits`]), and earlier when a newcomer needs its place: then the one goes that has been of no use for longest. So
//! whoever opens connections and leaves them lying takes places from themselves and not from others.
//!
//! - [`caps`]: the numbers, from flags and from what the system allows.
//! - [`open`]: the open connections; who is let in, and who goes.
//! - [`service`]: where the HTTP server asks.
//! - [`stream`]: one connection's bytes, and how it is cut off.

mod caps;
mod open;
mod service;
mod stream;

pub use caps::{Caps, ConnectionArgs, Waits};
pub use open::{Connection, Connections};
pub use service::{Admitting, Tracking, listen};
pub use stream::PROGRESS;
