//! Backups: one tar file with a consistent copy of the database and of every photograph that the database lists.
//!
//! Its members, in this order: `waxend-backup` with the version of the format; `waxend.db`; the photographs, each as
//! `photos/ab/cd/<its SHA-256>`; `waxend-digests` with the SHA-256 of every member before it, in the form of
//! `sha256sum`; and `waxend-end`, which is empty: a file without it was cut short. Version 1 of the format, of Waxend
//! 0.1.0, has no `waxend-digests`. The erasure ledger is not in a backup, so that restoring an old one cannot undo an
//! erasure.

mod members;
mod reading;
mod writing;

#[cfg(test)]
mod tests;

pub use members::{DATABASE, intact};
pub use reading::{BackupForm, UnpackError, Unpacked, read, read_beside};
pub use writing::{Written, beside, write};
