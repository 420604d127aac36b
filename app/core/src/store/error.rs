//! The errors of the store.

use shared::log::entry::EnvelopeError;

use super::kv::KvError;

/// Why the store could not do what was asked. Nothing was written.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum StoreError {
    /// The database failed.
    #[error(transparent)]
    Kv(#[from] KvError),
    /// The last app that wrote to the database is so new that this one may read and back it up, but not write to it.
    #[error("the records on this device were written by a newer app; update this one to go on writing")]
    NewerApp,
    /// A singleton of the store cannot be read. It is left as it is.
    #[error("the device's own notes under `{key}` cannot be read")]
    Unreadable {
        /// The key of the singleton.
        key: String,
    },
    /// An entry breaks a rule of the log and would be refused everywhere.
    #[error(transparent)]
    Envelope(#[from] EnvelopeError),
    /// A draft with an unknown body.
    #[error("there is nothing in this record that could be written down")]
    Empty,
    /// A save contained bytes that none of its entries names.
    #[error("a picture was to be kept that no record speaks of")]
    Unnamed,
    /// The entries belong to another shop.
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
    /// The file is not a backup of this app.
    #[error("this file is not a Waxend backup")]
    Foreign,
    /// The file was written by a newer app, in another format.
    #[error("this backup was written by a newer app; update this one to read it")]
    Newer,
    /// The end of the file is missing.
    #[error("this backup is not complete: part of the file is missing")]
    Cut,
    /// Some of the content does not match its SHA-256.
    #[error("this backup is damaged: part of the file is not what was written")]
    Damaged,
    /// SHA-256 is not available; with the browser's message.
    #[error("this browser cannot check the file: {0}")]
    Digest(String),
}
