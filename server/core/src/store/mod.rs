//! The database, as one trait.
//!
//! A [`Store`] begins transactions. A transaction has small operations, in seven groups: [`LogTx`] (entries and their
//! numbering), [`OutlineTx`] (entries, a part at a time), [`BlobTx`] (which blobs are stored), [`MemberTx`] (devices,
//! tokens, join codes), [`RightsTx`] (what a device may write, and how much a shop erases), [`AsideTx`] (entries that wait
//! for a repairer) and [`CheckTx`] (reading what may be damaged). The rules that combine them, above all those for
//! accepting entries, are written once in [`crate::shop`] and are the same for every database. One suite of contract tests
//! runs on every implementation.

mod aside;
mod blobs;
mod check;
mod log;
mod members;
mod outline;
mod repair;
mod rights;
pub mod sqlite;

use std::future::Future;

pub use aside::{AsideRow, AsideSize, AsideTx, aside_bytes};
pub use blobs::{BlobHash, BlobRow, BlobTx};
pub use check::{CheckTx, CheckedEntry, DerivedRows};
pub use log::{Arrival, Blank, Budget, LogTx, NewEntry, Numbered, Numbering, Page, PushedBy, StoredEntry};
pub use members::{DeviceRow, JoinCodeRow, MemberTx, SecretDigest, TokenRow};
pub use outline::{OutlineTx, outline_bytes};
pub use repair::{DamagedDevice, DamagedRows, RepairTx};
pub use rights::{CountedErasure, ErasedThing, ErasureRequest, NamedEntry, RightsTx};

/// What a transaction can do.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TxMode {
    /// It reads one consistent state, also while another transaction writes.
    Read,
    /// It reads and writes. There is one at a time; the others wait.
    Write,
}

/// What can fail in the database, grouped by what the caller can do about it.
#[derive(Debug, thiserror::Error)]
#[non_exhaustive]
pub enum DatabaseError {
    /// The disk is full. The transaction has written nothing.
    #[error("the disk is full")]
    Full,
    /// Another process has locked the database for too long.
    #[error("the database is busy")]
    Busy,
    /// A row that no version can have written.
    #[error("the database holds a damaged row: {0}")]
    Damaged(&'static str),
    /// Any other error of the database, for the log only.
    #[error("the database failed")]
    Other(#[source] Box<dyn std::error::Error + Send + Sync>),
}

/// A database of one shop.
pub trait Store: Clone + Send + Sync + 'static {
    /// Its transactions.
    type Tx: StoreTx;

    /// Begins a transaction.
    ///
    /// # Errors
    /// [`DatabaseError::Busy`] if a writer does not give way in time.
    fn begin(&self, mode: TxMode) -> impl Future<Output = Result<Self::Tx, DatabaseError>> + Send;

    /// Makes blanked or deleted content unreadable on the disk, as far as the database has left copies of it.
    ///
    /// # Errors
    /// Any [`DatabaseError`]. The copies then go when the database next tidies up by itself.
    fn scrub(&self) -> impl Future<Output = Result<(), DatabaseError>> + Send;

    /// Commits a write that changes nothing of what is stored, to find out whether a write works now.
    ///
    /// # Errors
    /// The errors of a real write.
    fn try_write(&self) -> impl Future<Output = Result<(), DatabaseError>> + Send;

    /// What the database's own check finds wrong with its file and its tables, one sentence each. It reads all of it.
    ///
    /// # Errors
    /// Any [`DatabaseError`] that is not the damage itself.
    fn faults(&self) -> impl Future<Output = Result<Vec<String>, DatabaseError>> + Send;
}

/// A transaction. Dropping it without [`StoreTx::commit`] rolls it back.
pub trait StoreTx: LogTx + OutlineTx + BlobTx + MemberTx + RightsTx + AsideTx + CheckTx + Send {
    /// Commits: all of it is durable when this returns.
    ///
    /// # Errors
    /// Any [`DatabaseError`]; then nothing was written.
    fn commit(self) -> impl Future<Output = Result<(), DatabaseError>> + Send;
}
