//! Why a backup was not restored.

use std::io;
use std::path::PathBuf;

use crate::backup::UnpackError;
use server_core::error::Error;

/// Why a backup was not restored.
#[derive(Debug, thiserror::Error)]
pub enum RestoreError {
    /// The file is not a complete Waxend backup; nothing was changed.
    #[error("not a complete Waxend backup")]
    NotABackup,
    /// This part of the backup is not what was backed up; nothing was changed.
    #[error("{0} in the backup is damaged")]
    Damaged(String),
    /// There is no erasure ledger at this path; nothing was changed.
    #[error("there is no erasure ledger at {0}")]
    LedgerMissing(PathBuf),
    /// The file at this path is no erasure ledger, or a damaged one; nothing was changed.
    #[error("{0} is no erasure ledger, or a damaged one")]
    LedgerDamaged(PathBuf),
    /// The data folder could not be changed.
    #[error(transparent)]
    Disk(#[from] io::Error),
    /// The database could not be changed.
    #[error(transparent)]
    Shop(#[from] Error),
}

impl From<UnpackError> for RestoreError {
    fn from(error: UnpackError) -> Self {
        match error {
            UnpackError::NotABackup => Self::NotABackup,
            UnpackError::Damaged(what) => Self::Damaged(what),
            UnpackError::Disk(error) => Self::Disk(error),
        }
    }
}
