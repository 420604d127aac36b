//! The database, as one trait.
//!
//! A [`Store`] begins transactions; a transaction offers small verbs, grouped as [`LogTx`] (entries and their
//! numbering), [`BlobTx`] (which bytes are here) and [`MemberTx`] (devices, tokens, join codes). What the verbs
//! are combined into, above all the rules of taking entries in, is written once in [`crate::shop`] and holds
//! for every database. One suite of contract tests runs on every implementation.

mod blobs;
mod log;
mod members;
pub mod sqlite;

use std::future::Future;

pub use blobs::{BlobHash, BlobRow, BlobTx};
pub use log::{Arrival, Blank, Budget, LogTx, NewEntry, Numbered, Numbering, Page, StoredEntry};
pub use members::{DeviceRow, JoinCodeRow, MemberTx, SecretDigest, TokenRow};

/// What a transaction may do.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TxMode {
    /// Reads one consistent state, beside any writer.
    Read,
    /// Reads and writes. Only one at a time; the others wait.
    Write,
}

/// What can go wrong in the database, by what the caller can do about it.
#[derive(Debug, thiserror::Error)]
#[non_exhaustive]
pub enum DatabaseError {
    /// No room on the disk. Nothing of the transaction was written.
    #[error("the disk is full")]
    Full,
    /// Another process holds the database for too long.
    #[error("the database is busy")]
    Busy,
    /// A row that this version cannot have written.
    #[error("the database holds a damaged row: {0}")]
    Damaged(&'static str),
    /// Anything else, in the database's words: for the log only.
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

    /// Makes what was blanked or deleted before unreadable at rest, as far as the database keeps traces of it.
    ///
    /// # Errors
    /// Any [`DatabaseError`]; the traces then go when the database next tidies itself.
    fn scrub(&self) -> impl Future<Output = Result<(), DatabaseError>> + Send;

    /// Writes and commits something that means nothing, to see whether a write works now.
    ///
    /// # Errors
    /// What a real write would meet.
    fn try_write(&self) -> impl Future<Output = Result<(), DatabaseError>> + Send;
}

/// A transaction. Dropping it without [`StoreTx::commit`] undoes everything it did.
pub trait StoreTx: LogTx + BlobTx + MemberTx + Send {
    /// Makes everything durable, or nothing.
    ///
    /// # Errors
    /// Any [`DatabaseError`]; then nothing was written.
    fn commit(self) -> impl Future<Output = Result<(), DatabaseError>> + Send;
}
