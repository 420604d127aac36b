//! One file.

/// Why a backup file cannot be used.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum BackupError {
    /// Not ours.
    #[error("this file is not a backup of this app")]
    Foreign,
}
