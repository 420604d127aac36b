//! Everything the server can refuse or fail at: one enum, each with a stable code and a sentence for the
//! repairer. How it looks in HTTP is in [`crate::http`].

use std::io;

use shared::sync::{Code, Problem};

use crate::store::DatabaseError;

/// Why a request was not answered as asked. The text of each is shown to people; sources go to the log only.
#[derive(Debug, thiserror::Error)]
#[non_exhaustive]
pub enum Error {
    /// Not JSON, or not of the shape asked for.
    #[error("The server could not read this request. The app may be older or newer than the server.")]
    Malformed,
    /// More bytes than this request may have.
    #[error("This is more than the server takes at once.")]
    TooLarge,
    /// A body that did not go on.
    #[error(
        "This came too slowly and was given up. Everything is kept on the device and will be sent again."
    )]
    TooSlow,
    /// No such join code, or used.
    #[error("This join code is not known, or it has already been used. Ask for a new one.")]
    CodeUnknown,
    /// The join code is too old.
    #[error("This join code is older than ten minutes. Ask for a new one.")]
    CodeExpired,
    /// The device's records belong to another shop.
    #[error("This device's records belong to another shop. It cannot join this one.")]
    OtherShop,
    /// No token.
    #[error("This device has not joined the shop. Join it with a code.")]
    TokenMissing,
    /// Not one of our tokens.
    #[error("The server does not know this device. Everything is kept on it: join again with a new code.")]
    TokenUnknown,
    /// A token that was taken back.
    #[error("The shop has shut this device out. Everything is kept on it: join again with a new code.")]
    TokenRevoked,
    /// The numbering has changed under the device.
    #[error("The server's records are not those this device last read. It will read everything again.")]
    CursorLost,
    /// The bytes are not those named.
    #[error("The photo was damaged on the way. It will be sent again.")]
    HashMismatch,
    /// Not a SHA-256.
    #[error("This is not the name of a photo.")]
    BadHash,
    /// No bytes.
    #[error("The photo is empty.")]
    Empty,
    /// Not a photo or voice note, or not the kind it claims to be.
    #[error("The shop keeps photos (JPEG, PNG, WebP) and voice notes only, and this is neither.")]
    MediaType,
    /// Erased for good.
    #[error("This was erased and is not taken back.")]
    Erased,
    /// No such thing.
    #[error("There is nothing here under that name.")]
    NotFound,
    /// The address answers other methods.
    #[error("This address does not answer that kind of request.")]
    MethodNotAllowed,
    /// Flooded.
    #[error("Too many requests. Try again in {retry_after} s.")]
    TooMany {
        /// Seconds.
        retry_after: u64,
    },
    /// No room.
    #[error("The server's disk is full. Everything is kept on the device until there is room.")]
    DiskFull,
    /// Stopping or busy.
    #[error("The server is busy or stopping. Try again in a moment.")]
    Unavailable,
    /// The database failed.
    #[error("The server could not do this and has written down why.")]
    Store(#[source] DatabaseError),
    /// The photo folder or the erasure ledger failed.
    #[error("The server could not do this and has written down why.")]
    Files(#[source] io::Error),
    /// A fault in the server itself.
    #[error("The server could not do this and has written down why.")]
    Fault,
}

impl Error {
    /// The stable word.
    pub fn code(&self) -> Code {
        match self {
            Self::Malformed => Code::Malformed,
            Self::TooLarge => Code::TooLarge,
            Self::CodeUnknown => Code::CodeUnknown,
            Self::CodeExpired => Code::CodeExpired,
            Self::OtherShop => Code::OtherShop,
            Self::TokenMissing => Code::TokenMissing,
            Self::TokenUnknown => Code::TokenUnknown,
            Self::TokenRevoked => Code::TokenRevoked,
            Self::CursorLost => Code::CursorLost,
            Self::HashMismatch => Code::HashMismatch,
            Self::BadHash => Code::BadHash,
            Self::Empty => Code::Empty,
            Self::MediaType => Code::MediaType,
            Self::Erased => Code::Erased,
            Self::NotFound => Code::NotFound,
            Self::MethodNotAllowed => Code::MethodNotAllowed,
            Self::TooMany { .. } => Code::TooMany,
            Self::DiskFull => Code::DiskFull,
            Self::Unavailable | Self::TooSlow => Code::Unavailable,
            Self::Store(_) | Self::Files(_) | Self::Fault => Code::Internal,
        }
    }

    /// What the device is told.
    pub fn problem(&self) -> Problem {
        let retry_after = match self {
            Self::TooMany { retry_after } => Some(*retry_after),
            Self::Unavailable => Some(1),
            _ => None,
        };
        Problem {
            code: self.code(),
            message: self.to_string(),
            retry_after,
        }
    }
}

impl From<DatabaseError> for Error {
    fn from(error: DatabaseError) -> Self {
        match error {
            DatabaseError::Full => Self::DiskFull,
            DatabaseError::Busy => Self::Unavailable,
            other => Self::Store(other),
        }
    }
}

impl From<io::Error> for Error {
    fn from(error: io::Error) -> Self {
        match error.kind() {
            io::ErrorKind::StorageFull | io::ErrorKind::QuotaExceeded | io::ErrorKind::FileTooLarge => {
                Self::DiskFull
            }
            _ => Self::Files(error),
        }
    }
}
