//! What can go wrong in the store.

use shared::log::entry::EnvelopeError;

use super::kv::KvError;

/// Why the store could not do what was asked. Nothing of it was written.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum StoreError {
    /// The database failed.
    #[error(transparent)]
    Kv(#[from] KvError),
    /// The database was last written by an app so new that this one may read and back up, but not write.
    #[error("the records on this device were written by a newer app; update this one to go on writing")]
    NewerApp,
    /// A singleton of the store cannot be read. It is left as it is.
    #[error("the device's own notes under `{key}` cannot be read")]
    Unreadable {
        /// Which one.
        key: String,
    },
    /// An entry breaks a rule of the log and would be refused everywhere.
    #[error(transparent)]
    Envelope(#[from] EnvelopeError),
    /// A draft without anything to say.
    #[error("there is nothing in this record that could be written down")]
    Empty,
    /// Bytes came with a save that no entry of it names.
    #[error("a picture was to be kept that no record speaks of")]
    Unnamed,
    /// These records belong to another shop.
    #[error("the records belong to another shop")]
    OtherShop,
    /// The backup file cannot be used.
    #[error(transparent)]
    Backup(#[from] BackupError),
}

/// Why a backup file cannot be written or used. Nothing on the device was changed.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum BackupError {
    /// Not a backup of this app.
    #[error("this file is not a Waxend backup")]
    Foreign,
    /// Written by an app with another kind of file.
    #[error("this backup was written by a newer app; update this one to read it")]
    Newer,
    /// The end is missing.
    #[error("this backup is not complete: part of the file is missing")]
    Cut,
    /// Some of it is not what was written.
    #[error("this backup is damaged: part of the file is not what was written")]
    Damaged,
    /// SHA-256 could not be had, in the browser's words.
    #[error("this browser cannot check the file: {0}")]
    Digest(String),
}
