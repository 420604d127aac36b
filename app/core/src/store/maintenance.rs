//! The household: packing what is closed, trying again what was refused, keeping and letting go of bytes.

mod compaction;
mod retention;

pub use compaction::Compacted;
