//! Every refusal and failure of the server: one enum, each with a stable code and a sentence for the repairer.

use std::io;

use shared::sync::{Code, Problem};

use crate::store::DatabaseError;

/// Why a request was refused or failed. The text of each is shown to people; sources go to the log only.
#[derive(Debug, thiserror::Error)]
pub enum Error {
    /// The request is not JSON, or not of the expected shape.
    #[error("{}", words::refusals::request_unreadable())]
    Malformed,
    /// The request has more bytes than are allowed for it.
    #[error("{}", words::refusals::more_than_taken_at_once())]
    TooLarge,
    /// The client did not go on sending the request's body.
    #[error("{}", words::refusals::came_too_slowly())]
    TooSlow,
    /// No such join code, or it was used already.
    #[error("{}", words::refusals::code_unknown())]
    CodeUnknown,
    /// The join code has expired.
    #[error("{}", words::refusals::code_expired())]
    CodeExpired,
    /// The device's records belong to another shop.
    #[error("{}", words::refusals::records_of_another_shop())]
    OtherShop,
    /// The request has no token.
    #[error("{}", words::refusals::device_has_not_joined())]
    TokenMissing,
    /// The token is none that this server has given out.
    #[error("{}", words::refusals::device_unknown())]
    TokenUnknown,
    /// The token was revoked.
    #[error("{}", words::refusals::device_shut_out())]
    TokenRevoked,
    /// No request has come with the token for half a year.
    #[error("{}", words::refusals::device_not_heard_of())]
    TokenExpired,
    /// Another token of a device with this id still opens the shop.
    #[error("{}", words::refusals::device_has_access_already())]
    DeviceTaken,
    /// Only a repairer's device may ask for this.
    #[error("{}", words::refusals::for_repairer())]
    ForRepairer,
    /// It would leave the shop without a repairer's device.
    #[error("{}", words::refusals::last_repairer())]
    LastRepairer,
    /// The numbering is not the one that the device's cursor belongs to: the server was restored or set back.
    #[error("{}", words::refusals::records_are_not_those_last_read())]
    CursorLost,
    /// The SHA-256 of the bytes is not the one in the request's path.
    #[error("{}", words::refusals::photo_damaged_on_the_way())]
    HashMismatch,
    /// The text is no SHA-256 in lower-case hex.
    #[error("{}", words::refusals::not_the_name_of_a_photo())]
    BadHash,
    /// The body of a photograph has no bytes.
    #[error("{}", words::refusals::photo_is_empty())]
    Empty,
    /// The bytes are no photograph or voice note, or not of the media type that the request states.
    #[error("{}", words::refusals::neither_photo_nor_voice_note())]
    MediaType,
    /// The picture has EXIF.
    #[error("{}", words::refusals::photo_has_exif())]
    HasExif,
    /// The body of a request that must be JSON is said to be something else.
    #[error("{}", words::refusals::request_is_not_json())]
    NotJson,
    /// The content was erased and is not stored again.
    #[error("{}", words::refusals::erased_and_not_taken_again())]
    Erased,
    /// There is nothing at this address.
    #[error("{}", words::refusals::nothing_under_that_name())]
    NotFound,
    /// The address exists, but not for this HTTP method.
    #[error("{}", words::refusals::address_does_not_answer_that())]
    MethodNotAllowed,
    /// The device or address has sent too many requests.
    #[error("{}", words::refusals::too_many_requests(*.retry_after))]
    TooMany {
        /// Seconds until the next request is accepted.
        retry_after: u64,
    },
    /// The server's disk is full.
    #[error("{}", words::refusals::disk_of_server_full())]
    DiskFull,
    /// The shop has as much as its server is set to take.
    #[error("{}", words::refusals::quota_of_shop_full())]
    QuotaFull,
    /// The server is stopping or busy.
    #[error("{}", words::refusals::server_busy())]
    Unavailable,
    /// The database failed.
    #[error("{}", words::refusals::server_failed())]
    Store(#[source] DatabaseError),
    /// The photo folder or the erasure ledger failed.
    #[error("{}", words::refusals::server_failed())]
    Files(#[source] io::Error),
    /// A fault of the server itself: a handler panicked.
    #[error("{}", words::refusals::server_failed())]
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
            // One code, so that an app of any version knows what to do about it: it has to be joined again.
            Self::TokenRevoked | Self::TokenExpired => Code::TokenRevoked,
            Self::DeviceTaken => Code::DeviceTaken,
            Self::ForRepairer => Code::ForRepairer,
            Self::LastRepairer => Code::LastRepairer,
            Self::CursorLost => Code::CursorLost,
            Self::HashMismatch => Code::HashMismatch,
            Self::BadHash => Code::BadHash,
            Self::Empty => Code::Empty,
            Self::MediaType | Self::NotJson => Code::MediaType,
            Self::HasExif => Code::HasExif,
            Self::Erased => Code::Erased,
            Self::NotFound => Code::NotFound,
            Self::MethodNotAllowed => Code::MethodNotAllowed,
            Self::TooMany { .. } => Code::TooMany,
            // One code: whichever it is, somebody has to make room at the server, and the device sends everything later.
            Self::DiskFull | Self::QuotaFull => Code::DiskFull,
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
