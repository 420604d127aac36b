//! Every refusal and failure of the server: one enum, each with a stable code and a sentence for the repairer.

use std::io;

use shared::sync::{Code, Problem};

use crate::store::DatabaseError;

/// Why a request was refused or failed. The text of each is shown to people; sources go to the log only.
#[derive(Debug, thiserror::Error)]
pub enum Error {
    /// The request is not JSON, or not of the expected shape.
    #[error("The server could not read this request. The app may be older or newer than the server.")]
    Malformed,
    /// The request has more bytes than are allowed for it.
    #[error("This is more than the server takes at once.")]
    TooLarge,
    /// The client did not go on sending the request's body.
    #[error(
        "This came too slowly and was given up. Everything is kept on the device and will be sent again."
    )]
    TooSlow,
    /// No such join code, or it was used already.
    #[error("This join code is not known, or it has already been used. Ask for a new one.")]
    CodeUnknown,
    /// The join code has expired.
    #[error("This join code is older than ten minutes. Ask for a new one.")]
    CodeExpired,
    /// The device's records belong to another shop.
    #[error("This device's records belong to another shop. It cannot join this one.")]
    OtherShop,
    /// The request has no token.
    #[error("This device has not joined the shop. Join it with a code.")]
    TokenMissing,
    /// The token is none that this server has given out.
    #[error("The server does not know this device. Everything is kept on it: join again with a new code.")]
    TokenUnknown,
    /// The token was revoked.
    #[error("The shop has shut this device out. Everything is kept on it: join again with a new code.")]
    TokenRevoked,
    /// The numbering is not the one that the device's cursor belongs to: the server was restored or set back.
    #[error("The server's records are not those this device last read. It will read everything again.")]
    CursorLost,
    /// The SHA-256 of the bytes is not the one in the request's path.
    #[error("The photo was damaged on the way. It will be sent again.")]
    HashMismatch,
    /// The text is no SHA-256 in lower-case hex.
    #[error("This is not the name of a photo.")]
    BadHash,
    /// The body of a photograph has no bytes.
    #[error("The photo is empty.")]
    Empty,
    /// The bytes are no photograph or voice note, or not of the media type that the request states.
    #[error("The shop keeps photos (JPEG, PNG, WebP) and voice notes only, and this is neither.")]
    MediaType,
    /// The content was erased and is not stored again.
    #[error("This was erased and is not taken back.")]
    Erased,
    /// There is nothing at this address.
    #[error("There is nothing here under that name.")]
    NotFound,
    /// The address exists, but not for this HTTP method.
    #[error("This address does not answer that kind of request.")]
    MethodNotAllowed,
    /// The device or address has sent too many requests.
    #[error("Too many requests. Try again in {retry_after} s.")]
    TooMany {
        /// Seconds until the next request is accepted.
        retry_after: u64,
    },
    /// The server's disk is full.
    #[error("The server's disk is full. Everything is kept on the device until there is room.")]
    DiskFull,
    /// The server is stopping or busy.
    #[error("The server is busy or stopping. Try again in a moment.")]
    Unavailable,
    /// The database failed.
    #[error("The server could not do this and has written down why.")]
    Store(#[source] DatabaseError),
    /// The photo folder or the erasure ledger failed.
    #[error("The server could not do this and has written down why.")]
    Files(#[source] io::Error),
    /// A fault of the server itself: a handler panicked.
    #[error("The server could not do this and has written down why.")]
    Fault,
}

impl Error {
    /// The stable code.
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

    /// The refusal as it is sent to the device.
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
