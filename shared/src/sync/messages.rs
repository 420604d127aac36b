//! The bodies of the sync API, version 1. The path is given with each message.

use serde::{Deserialize, Serialize};
use uuid::Uuid;

use super::code::Problem;
use super::cursor::{Cursor, HistoryMark};
use crate::log::{DeviceId, EntryId, ReceivedEntry, UnixMs};

/// The most bytes of JSON in one batch of entries, in either direction.
pub const BATCH_BYTES: usize = 1_000_000;
/// The most ids or hashes in one request.
pub const MAX_ASKED: usize = 2_000;
/// The most bytes in one blob.
pub const MAX_BLOB: usize = 8 * 1024 * 1024;
/// The media types a blob may have.
pub const MEDIA_TYPES: &[&str] = &[
    "image/jpeg",
    "image/png",
    "image/webp",
    "audio/webm",
    "audio/ogg",
    "audio/mp4",
    "audio/mpeg",
];
/// How long a join code is valid, in ms.
pub const JOIN_CODE_MS: i64 = 10 * 60 * 1000;

/// `POST /api/v1/join`: a device asks to join the shop. The only request, except for health, without a token; a device
/// that still has one sends it, which shows that it joins again under its own id.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct JoinRequest {
    /// The one-time code, as typed: upper or lower case, spaces and dashes do not matter.
    pub code: String,
    /// The device's own id, which it made on its first start.
    pub device: DeviceId,
    /// The name of the device, for people.
    pub name: String,
    /// The shop to which the device's entries already belong, if it ever synced.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub shop: Option<Uuid>,
}

/// The answer to [`JoinRequest`].
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct JoinAnswer {
    /// The token: 256 random bits in hex, to be sent as `Authorization: Bearer`. The server stores only a hash of it.
    pub token: String,
    /// The shop; also the id of the log's one `shop` subject.
    pub shop: Uuid,
    /// The letters before this device's tag numbers: `A`…`Z`, `AA`…, never given to another device.
    pub letters: String,
}

/// `POST /api/v1/join-codes`: the answer to a joined device that asks for a code to join another one. The code is void
/// once the device that asked for it is shut out.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct JoinCode {
    /// The code as it is shown, for example `K7QM-2RTX`.
    pub code: String,
    /// When it expires.
    pub expires: UnixMs,
}

/// `POST /api/v1/entries`: entries whose acknowledgement the device has not received, at most [`BATCH_BYTES`].
///
/// The server reads each entry separately, so that one it cannot read does not stop the others.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct PushRequest {
    /// In the order they were made.
    pub entries: Vec<ReceivedEntry>,
    /// [`PushAnswer::at`] of the device's last push, if its cursor has not passed it. If the server no longer knows it,
    /// it accepts nothing and answers 409 `cursor_lost`: the entries acknowledged then may be lost.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pushed: Option<Cursor>,
}

/// The answer to [`PushRequest`].
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct PushAnswer {
    /// One for each entry sent, in the same order.
    pub results: Vec<PushOutcome>,
    /// The server's number before this push. A device whose cursor is there has read everything except what it has just
    /// pushed, and continues from `at`. Absent in answers of servers older than this field.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub before: Option<Cursor>,
    /// The server's number after this push: as long as the server knows it, it has the pushed entries.
    pub at: Cursor,
}

/// The outcome for one pushed entry.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum PushOutcome {
    /// The entry is durable on the server.
    Accepted {
        /// When the server first took it.
        received: UnixMs,
    },
    /// The entry is not accepted. It stays on the device and blocks no other.
    Refused(Problem),
}

/// The answer to `GET /api/v1/entries?epoch=&seq=&mark=[&pushed_epoch=&pushed_seq=&pushed_mark=][&app=]` (without a
/// cursor: from zero): the entries after the cursor. `app` is the version of the app that pulls, which the server
/// stores with the device. The server answers 409 `cursor_lost` if a number has another mark, be it the cursor's or
/// that of the device's last push.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct PullAnswer {
    /// The entries, in the order of the server's numbering.
    pub entries: Vec<ReceivedEntry>,
    /// The device's cursor once these are applied.
    pub cursor: Cursor,
    /// Whether more entries follow.
    pub more: bool,
    /// If no more entries follow, blobs that entries name and whose bytes the server lacks, at most [`MAX_ASKED`]. A
    /// device that has one sends it, even if the server had confirmed it before.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub wanted: Vec<String>,
}

/// The answer to `GET /api/v1/in-shop`: what is in the shop now, for a new device.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct InShopAnswer {
    /// The entries of every job not handed over, with its pair, ticket and customer, and of the shop itself.
    pub entries: Vec<ReceivedEntry>,
    /// The server's number now: history is read up to it, later entries after it.
    pub start: Cursor,
}

/// The answer to `GET /api/v1/history?epoch=&seq=&mark=[&before_subject=&before_seq=]`: a page of the entries that
/// existed at `start`, grouped by subject, newest first. 409 `cursor_lost` as for a pull.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct HistoryAnswer {
    /// At most [`BATCH_BYTES`] of JSON, at least one entry unless the history is empty.
    pub entries: Vec<ReceivedEntry>,
    /// Where the next page begins; absent at the end.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub next: Option<HistoryMark>,
}

/// One entry that a device has, in its question whether the server has it too.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Holding {
    /// The entry.
    pub id: EntryId,
    /// When a server first received it, as far as the device knows.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub received: Option<UnixMs>,
}

/// `POST /api/v1/entries/missing`: asks which of these the server lacks, or knows with a later `received`. At most
/// [`MAX_ASKED`].
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct MissingEntries {
    /// The entries that the device has.
    pub held: Vec<Holding>,
}

/// The answer to [`MissingEntries`].
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct MissingEntriesAnswer {
    /// The ids to push.
    pub missing: Vec<EntryId>,
}

/// `POST /api/v1/blobs/missing`: asks which of these the server lacks. At most [`MAX_ASKED`].
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct MissingBlobs {
    /// SHA-256 in lower-case hex.
    pub hashes: Vec<String>,
}

/// The answer to [`MissingBlobs`]. Erased blobs are not missing.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct MissingBlobsAnswer {
    /// The hashes to send with `PUT /api/v1/blobs/{sha256}`, which answers 201 for a new blob and 200 for a known one,
    /// both after an fsync.
    pub missing: Vec<String>,
}

/// What the server has stored, to compare with the device: the answer to `GET /api/v1/status`.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Status {
    /// The shop.
    pub shop: Uuid,
    /// The number of entries stored.
    pub entries: u64,
    /// The number of blobs stored.
    pub blobs: u64,
    /// The time of the server's clock.
    pub now: UnixMs,
    /// The server's version.
    pub version: String,
}

/// A device that has joined.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Device {
    /// Its own id.
    pub id: DeviceId,
    /// The name of the device, for people.
    pub name: String,
    /// The letters before its tag numbers.
    pub letters: String,
    /// When it last joined.
    pub joined: UnixMs,
    /// When the server last received a request from it.
    pub seen: UnixMs,
    /// The number up to which it had read everything then.
    pub seq: u64,
    /// When the shop revoked its access; `None` if it did not.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub revoked: Option<UnixMs>,
    /// The version of its app, as given in its last pull; see [`version`](super::version).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub app: Option<String>,
}
