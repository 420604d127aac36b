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
    #[error("{}", words::store::update_to_go_on_writing())]
    NewerApp,
    /// A singleton of the store cannot be read. It is left as it is.
    #[error("{}", words::store::own_notes_unreadable(.key))]
    Unreadable {
        /// The key of the singleton.
        key: String,
    },
    /// An entry breaks a rule of the log and would be refused everywhere.
    #[error(transparent)]
    Envelope(#[from] EnvelopeError),
    /// A draft with an unknown body.
    #[error("{}", words::store::nothing_to_write_down())]
    Empty,
    /// A save contained bytes that none of its entries names.
    #[error("{}", words::store::picture_without_record())]
    Unnamed,
    /// The entries belong to another shop.
    #[error("{}", words::store::records_of_another_shop())]
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
    #[error("{}", words::store::not_a_backup())]
    Foreign,
    /// The file was written by a newer app, in another format.
    #[error("{}", words::store::backup_of_newer_app())]
    Newer,
    /// The end of the file is missing.
    #[error("{}", words::store::backup_not_complete())]
    Cut,
    /// Some of the content does not match its SHA-256.
    #[error("{}", words::store::backup_damaged())]
    Damaged,
    /// SHA-256 is not available; with the browser's message.
    #[error("{}", words::store::file_cannot_be_checked(.0))]
    Digest(String),
}
