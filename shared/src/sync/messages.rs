//! The bodies of the sync API, version 1. Paths stand beside each message.

use serde::{Deserialize, Serialize};
use uuid::Uuid;

use super::code::Problem;
use super::cursor::{Cursor, HistoryMark};
use crate::log::{DeviceId, EntryId, ReceivedEntry, UnixMs};

/// The most bytes of JSON in one batch of entries, up or down.
pub const BATCH_BYTES: usize = 1_000_000;
/// The most ids or hashes in one question.
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
/// How long a join code is good for.
pub const JOIN_CODE_MS: i64 = 10 * 60 * 1000;

/// `POST /api/v1/join`: a device asks to become one of the shop's. The only request but health without a token.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct JoinRequest {
    /// The one-time code, as typed: case, spaces and dashes do not matter.
    pub code: String,
    /// The device's own id, made on its first start.
    pub device: DeviceId,
    /// What people call the device.
    pub name: String,
    /// The shop the device's records already belong to, if it ever synced.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub shop: Option<Uuid>,
}

/// The answer to [`JoinRequest`].
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct JoinAnswer {
    /// 256 random bits in hex, sent as `Authorization: Bearer` from now on. The server keeps only a hash.
    pub token: String,
    /// The shop; also the id of the log's one `shop` subject.
    pub shop: Uuid,
    /// The letters in front of this device's tag numbers: `A`…`Z`, `AA`…, never given to another device.
    pub letters: String,
}

/// `POST /api/v1/join-codes`: the answer to a joined device that asks for a code for another.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct JoinCode {
    /// As it is shown, for example `K7QM-2RTX`.
    pub code: String,
    /// When it stops working.
    pub expires: UnixMs,
}

/// `POST /api/v1/entries`: entries the device has not seen acknowledged, at most [`BATCH_BYTES`].
///
/// The server reads each entry by itself, so that one it cannot read does not stop the others.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct PushRequest {
    /// In the order they were made.
    pub entries: Vec<ReceivedEntry>,
    /// [`PushAnswer::at`] of the device's last push, if its cursor has not passed it. When it no longer stands the
    /// server takes nothing and answers 409 `cursor_lost`: what was acknowledged then may be lost.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pushed: Option<Cursor>,
}

/// The answer to [`PushRequest`].
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct PushAnswer {
    /// One for each entry sent, in the same order.
    pub results: Vec<PushOutcome>,
    /// Where the numbering stood before. A device that stands there has read everything but what it has just
    /// pushed, and goes on from `at`. Absent from servers of before this field.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub before: Option<Cursor>,
    /// Where the numbering stood once they were taken: as long as this stands, so do they.
    pub at: Cursor,
}

/// What became of one pushed entry.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum PushOutcome {
    /// Durable on the server.
    Accepted {
        /// When the server first took it.
        received: UnixMs,
    },
    /// Not taken. It stays on the device and blocks nothing else.
    Refused(Problem),
}

/// The answer to `GET /api/v1/entries?epoch=&seq=&mark=[&pushed_epoch=&pushed_seq=&pushed_mark=][&app=]` (no cursor:
/// from zero): what follows the cursor. `app` is the version of the app that pulls, noted with the device. 409 `cursor_lost` when a mark does not stand at its number, be it the
/// cursor's or that of the device's last push.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct PullAnswer {
    /// In the server's numbering.
    pub entries: Vec<ReceivedEntry>,
    /// Where the device stands once these are applied.
    pub cursor: Cursor,
    /// Whether there is more.
    pub more: bool,
    /// Blobs that entries name and whose bytes the server lacks, at most [`MAX_ASKED`], when there is no more. A
    /// device that holds one offers it, whatever it was told before.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub wanted: Vec<String>,
}

/// The answer to `GET /api/v1/in-shop`: what is in the shop now, for a device that has nothing yet.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct InShopAnswer {
    /// The entries of every job not handed over, with its pair, ticket and customer, and of the shop itself.
    pub entries: Vec<ReceivedEntry>,
    /// Where the numbering stood: history is read up to here, the tail after it.
    pub start: Cursor,
}

/// The answer to `GET /api/v1/history?epoch=&seq=&mark=[&before_subject=&before_seq=]`: a page of what stood at
/// `start`, grouped by subject, newest first. 409 `cursor_lost` as for pull.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct HistoryAnswer {
    /// At most [`BATCH_BYTES`] of JSON, at least one entry unless the history is empty.
    pub entries: Vec<ReceivedEntry>,
    /// Where to go on; absent at the end.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub next: Option<HistoryMark>,
}

/// One entry a device holds, as it asks whether the server has it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Holding {
    /// Which entry.
    pub id: EntryId,
    /// When a server first took it, as far as the device knows.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub received: Option<UnixMs>,
}

/// `POST /api/v1/entries/missing`: which of these does the server lack, or know with a later `received`?
/// At most [`MAX_ASKED`].
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct MissingEntries {
    /// What the device holds.
    pub held: Vec<Holding>,
}

/// The answer to [`MissingEntries`].
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct MissingEntriesAnswer {
    /// The ids to push.
    pub missing: Vec<EntryId>,
}

/// `POST /api/v1/blobs/missing`: which of these does the server lack? At most [`MAX_ASKED`].
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct MissingBlobs {
    /// SHA-256 in lower-case hex.
    pub hashes: Vec<String>,
}

/// The answer to [`MissingBlobs`]. Erased ones are not missing.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct MissingBlobsAnswer {
    /// The hashes to `PUT /api/v1/blobs/{sha256}`: 201 new, 200 already there, both after an fsync.
    pub missing: Vec<String>,
}

/// What the server holds, to set beside what the device holds.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Status {
    /// The shop.
    pub shop: Uuid,
    /// Entries held.
    pub entries: u64,
    /// Blobs held.
    pub blobs: u64,
    /// The server's clock.
    pub now: UnixMs,
    /// The server's version.
    pub version: String,
}

/// A device that has joined.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Device {
    /// Its own id.
    pub id: DeviceId,
    /// What people call it.
    pub name: String,
    /// The letters before its tag numbers.
    pub letters: String,
    /// When it joined, the last time it did.
    pub joined: UnixMs,
    /// When it was last heard of.
    pub seen: UnixMs,
    /// The number up to which it had read everything then.
    pub seq: u64,
    /// When the shop shut it out, if it did.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub revoked: Option<UnixMs>,
    /// The version of its app, as its last pull named it; see [`version`](super::version).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub app: Option<String>,
}
