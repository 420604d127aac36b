//! Searches for better choices: times by which pairs are done, priorities, orders, and all of them for very little work.

pub(super) mod exact;
pub(super) mod goals;
pub(super) mod local_search;
mod moves;
pub(super) mod priority_search;
pub(super) mod slot_assignment;
