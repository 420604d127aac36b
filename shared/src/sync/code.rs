//! The stable codes for every reason of a refusal, the same in HTTP answers, on the device and in the documentation.

use serde::{Deserialize, Serialize};

use crate::log::open::open_enum;

open_enum!(
    /// Why something was refused. A code is never renamed; new ones may be added.
    Code {
        /// The body is not JSON, or not of the expected shape.
        Malformed = "malformed",
        /// The body is larger than this request allows.
        TooLarge = "too_large",
        /// An envelope breaks a rule of the log.
        BadEnvelope = "bad_envelope",
        /// Another entry already has this id.
        IdTaken = "id_taken",
        /// The entry is blank, and the server knows no erasure that covers it.
        ErasureUnknown = "erasure_unknown",
        /// The shop itself cannot be erased.
        NotErasable = "not_erasable",
        /// This card link already belongs to another pair.
        LinkTaken = "link_taken",
        /// There is no such join code, or it has been used.
        CodeUnknown = "code_unknown",
        /// The join code is older than ten minutes.
        CodeExpired = "code_expired",
        /// The device is joined to another shop.
        OtherShop = "other_shop",
        /// No token came with the request.
        TokenMissing = "token_missing",
        /// The server does not know this token.
        TokenUnknown = "token_unknown",
        /// The access of this device has ended: the shop has revoked it, or no request has come from the device for half
        /// a year. A person must join it again.
        TokenRevoked = "token_revoked",
        /// A device with this id has access already, and the request does not come with its token.
        DeviceTaken = "device_taken",
        /// The server keeps this entry aside until a repairer takes or drops it: the role of the device that sent it may
        /// not write it.
        KeptForRepairer = "kept_for_repairer",
        /// A repairer has dropped this entry, which the server had kept aside.
        DroppedByRepairer = "dropped_by_repairer",
        /// Only a repairer's device may ask for this.
        ForRepairer = "for_repairer",
        /// It would leave the shop without a repairer's device.
        LastRepairer = "last_repairer",
        /// The server has taken as many erasures as it takes in a day. One that was asked for two days ago is taken.
        TooManyErasures = "too_many_erasures",
        /// The server's number at the cursor has another mark: the device must read from zero.
        CursorLost = "cursor_lost",
        /// The bytes do not hash to the name they were sent under.
        HashMismatch = "hash_mismatch",
        /// The name is not a SHA-256 in lower-case hex.
        BadHash = "bad_hash",
        /// No bytes were sent.
        Empty = "empty",
        /// The media type is not one that the shop stores, or not that of the request.
        MediaType = "media_type",
        /// The picture has EXIF, which can say where it was taken.
        HasExif = "has_exif",
        /// The content was erased and is not stored again.
        Erased = "erased",
        /// There is nothing of that name.
        NotFound = "not_found",
        /// The shop has withdrawn the page.
        Withdrawn = "withdrawn",
        /// The address exists, but not for this method.
        MethodNotAllowed = "method_not_allowed",
        /// Too many requests; the answer says when to try again.
        TooMany = "too_many",
        /// The server has no room: its disk is full, or the shop has as much as the server is set to take.
        DiskFull = "disk_full",
        /// The server failed, and has logged why.
        Internal = "internal",
        /// The server is stopping or busy; the request can be repeated.
        Unavailable = "unavailable",
    }
);

/// The JSON body of every refusal.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Problem {
    /// The reason, as a stable code.
    pub code: Code,
    /// One sentence for the repairer, without internal details.
    pub message: String,
    /// Seconds to wait before trying again, where that helps.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub retry_after: Option<u64>,
}
