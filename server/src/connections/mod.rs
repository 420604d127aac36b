//! Connections: how many may be open, how long they may take, and which one is closed when a new one needs its place.
//!
//! A connection counts from the moment it is accepted, before TLS. It is closed when it takes too long ([`Waits`]), and
//! earlier when a new connection needs a place: then the one is closed that has made no progress for longest. So a
//! client that opens connections and leaves them idle loses its own places and not those of others.
//!
//! - [`caps`]: the limits, from flags and from what the system allows.
//! - [`open`]: the open connections, which are let in and which are closed.
//! - [`service`]: where the HTTP server consults them.
//! - [`stream`]: the bytes of one connection, and how it is cut off.

mod caps;
mod open;
mod service;
mod stream;

pub use caps::{Caps, ConnectionArgs, Waits};
pub use open::{Connection, Connections};
pub use service::{Admitting, Tracking, listen};
pub use stream::PROGRESS;
