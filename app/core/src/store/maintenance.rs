//! Maintenance: archiving closed jobs, sending refused entries again, storing and deleting bytes.

mod compaction;
mod retention;

pub use compaction::Compacted;
