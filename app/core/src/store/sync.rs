//! Sync with a server: joining a shop, and what the sync machine asks of the store.

mod exchange;
mod joining;

pub(in crate::store) use exchange::Holdings;
pub(in crate::store) use joining::writes_of;
