//! Sync with a server: joining a shop, what the sync machine asks of the store, and leaving nothing behind on a device
//! that was shut out.

mod exchange;
mod joining;
mod requests;
mod wiping;

pub(in crate::store) use exchange::Holdings;
pub(in crate::store) use joining::writes_of;
pub use wiping::Access;
