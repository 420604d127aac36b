//! The stable words for everything that can be refused, the same in HTTP answers, on the device and in docs.

use serde::{Deserialize, Serialize};

use crate::log::open::open_enum;

open_enum!(
    /// Why something was refused. Never renamed; new ones may be added.
    Code {
        /// The body is not JSON, or not of the shape asked for.
        Malformed = "malformed",
        /// The body is larger than this request may be.
        TooLarge = "too_large",
        /// An envelope breaks a rule of the log.
        BadEnvelope = "bad_envelope",
        /// Another entry already has this id.
        IdTaken = "id_taken",
        /// The entry is blank, and the server knows of no erasure that explains it.
        ErasureUnknown = "erasure_unknown",
        /// The shop itself cannot be erased.
        NotErasable = "not_erasable",
        /// This card link already belongs to another pair.
        LinkTaken = "link_taken",
        /// No such join code, or it has been used.
        CodeUnknown = "code_unknown",
        /// The join code is older than ten minutes.
        CodeExpired = "code_expired",
        /// The device is joined to another shop.
        OtherShop = "other_shop",
        /// No token came with the request.
        TokenMissing = "token_missing",
        /// The server does not know this token.
        TokenUnknown = "token_unknown",
        /// The shop has shut this device out.
        TokenRevoked = "token_revoked",
        /// The cursor does not stand where it says: read from zero.
        CursorLost = "cursor_lost",
        /// The bytes do not hash to the name they were sent under.
        HashMismatch = "hash_mismatch",
        /// Not a SHA-256 in lower-case hex.
        BadHash = "bad_hash",
        /// No bytes were sent.
        Empty = "empty",
        /// Not a kind of file the shop keeps.
        MediaType = "media_type",
        /// The content was erased and is not taken back.
        Erased = "erased",
        /// Nothing of that name.
        NotFound = "not_found",
        /// The page was taken back by the shop.
        Withdrawn = "withdrawn",
        /// The address answers, but not to this kind of request.
        MethodNotAllowed = "method_not_allowed",
        /// Too many requests; the answer says when to try again.
        TooMany = "too_many",
        /// The server's disk is full.
        DiskFull = "disk_full",
        /// The server could not do it and has written down why.
        Internal = "internal",
        /// The server is stopping or busy; try again.
        Unavailable = "unavailable",
    }
);

/// The JSON body of every refusal.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Problem {
    /// What went wrong, as a stable word.
    pub code: Code,
    /// One sentence for the repairer. Never internals.
    pub message: String,
    /// Seconds to wait before trying again, where that helps.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub retry_after: Option<u64>,
}
