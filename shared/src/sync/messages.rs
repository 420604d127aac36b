//! The bodies of the sync API, version 1. The path is given with each message.

use serde::{Deserialize, Serialize};
use uuid::Uuid;

use super::code::Problem;
use super::cursor::{Cursor, HistoryMark};
use crate::log::body::Role;
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
/// How many subjects a shop can erase within [`ERASURES_WITHIN_MS`] without having asked for it before.
pub const MAX_ERASED_SUBJECTS: usize = 5;
/// The same for blobs. A photograph is two of them: the full picture and its thumbnail.
pub const MAX_ERASED_BLOBS: usize = 10;
/// The same for mentions of a person in single entries.
pub const MAX_ERASED_MENTIONS: usize = 200;
/// The time, in ms, within which erasures are counted.
pub const ERASURES_WITHIN_MS: i64 = 24 * 60 * 60 * 1000;
/// How long the server has held a request for an erasure, in ms, when the erasure follows.
pub const ERASURE_WAITS_MS: i64 = 48 * 60 * 60 * 1000;

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
    /// The role as which it joined. Absent in answers of servers older than roles, where every device is a repairer's.
    #[serde(default = "repairer")]
    pub role: Role,
}

/// The role of a device of which nothing else is known: before there were roles, every device could do everything.
fn repairer() -> Role {
    Role::Repairer
}

/// `POST /api/v1/join-codes`: asks for a code. An empty body asks for a repairer's. Only for a repairer's device.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct JoinCodeRequest {
    /// The role as which a device joins with the code.
    pub role: Role,
}

/// `POST /api/v1/join-codes`: the answer to a joined device that asks for a code to join another one. The code is void
/// once the device that asked for it is shut out.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct JoinCode {
    /// The code as it is shown, for example `K7QM-2RTX`.
    pub code: String,
    /// When it expires.
    pub expires: UnixMs,
    /// The role as which a device joins with it.
    #[serde(default = "repairer")]
    pub role: Role,
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
    /// If no more entries follow, and only for a repairer's device: the requests for an erasure
    /// ([`ErasureAsked`](crate::log::body::ErasureAsked)) that the server has held for [`ERASURE_WAITS_MS`], that nobody
    /// has called off, and that have not been fulfilled. The device writes these erasures.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub due: Vec<ReceivedEntry>,
    /// The role of the device that asks.
    #[serde(default = "repairer")]
    pub role: Role,
}

/// The answer to `GET /api/v1/in-shop?paged=true[&epoch=&seq=&mark=&before_subject=&before_seq=]`: a page of what is in the
/// shop now, for a new device. The first request has no cursor; the others have the `start` of the first answer and the
/// `next` of the last one. 409 `cursor_lost` as for a pull.
///
/// Without `paged` it is all of it, however much that is: apps of before 0.2.0 ask so, and servers of before 0.2.0 answer
/// so.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct InShopAnswer {
    /// The entries of every job not handed over, with its pair, ticket and customer, and of the shop itself; in a page at
    /// most [`BATCH_BYTES`] of JSON.
    pub entries: Vec<ReceivedEntry>,
    /// The server's number when the first page was read: history is read up to it, later entries after it.
    pub start: Cursor,
    /// Where the next page begins; absent at the end.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub next: Option<HistoryMark>,
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

/// An entry that the server keeps aside, because the role of the device that sent it may not write it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct KeptAside {
    /// The entry as it was sent.
    pub entry: ReceivedEntry,
    /// The device that sent it.
    pub device: DeviceId,
    /// When the server received it.
    pub arrived: UnixMs,
}

/// The answer to `GET /api/v1/kept-aside`: what waits for a repairer, the oldest first, at most [`BATCH_BYTES`]. Only for a
/// repairer's device.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct KeptAsideAnswer {
    /// The entries.
    pub entries: Vec<KeptAside>,
    /// Whether there are more, which are sent once these are decided.
    pub more: bool,
}

/// `POST /api/v1/kept-aside`: a repairer's decision about entries that the server keeps aside, at most [`MAX_ASKED`] in
/// all. What is taken is received now, as if this device had sent it. What is dropped is deleted on the server and stays
/// on the device that made it. An id that is not kept aside is ignored.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct KeptAsideDecision {
    /// The entries to be taken into the shop's records.
    #[serde(default)]
    pub take: Vec<EntryId>,
    /// The entries not to be taken.
    #[serde(default)]
    pub drop: Vec<EntryId>,
}

/// The answer to [`KeptAsideDecision`]: the outcome for each entry that was to be taken and was kept aside.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct KeptAsideDecided {
    /// The outcomes. A refused entry, for example one whose id another entry has, is no longer kept aside either.
    pub taken: Vec<(EntryId, PushOutcome)>,
}

/// `POST /api/v1/shut-out`, without a token: a device that was answered `token_revoked` asks for the proof that this
/// shop has shut it out. Only with a proof does it delete what the server has.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ShutOutQuestion {
    /// The device.
    pub device: DeviceId,
    /// A random number, which the proof has to contain.
    pub nonce: Uuid,
    /// How far the device has read.
    pub cursor: Cursor,
    /// [`PushAnswer::at`] of its last push, if its cursor has not passed it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pushed: Option<Cursor>,
}

/// The answer to [`ShutOutQuestion`] if the shop has shut the device out itself and both cursors stand in its numbering. 404
/// `not_found` otherwise, whatever the reason.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct ShutOutProof {
    /// One proof for each token that the device was ever given, newest first: SHA-256, in lower-case hex, over the
    /// SHA-256 of the token (32 bytes) and then [`shut_out_text`].
    pub proofs: Vec<String>,
}

/// What a [`ShutOutProof`] is computed over, after the token's SHA-256.
pub fn shut_out_text(question: &ShutOutQuestion, shop: Uuid) -> String {
    let at = |cursor: &Cursor| format!("{} {} {}", cursor.epoch, cursor.seq, cursor.mark);
    let pushed = question.pushed.as_ref().map_or_else(|| "-".to_owned(), at);
    let cursor = at(&question.cursor);
    let (device, nonce) = (question.device, question.nonce);
    format!("waxend shut out\n{shop}\n{device}\n{nonce}\n{cursor}\n{pushed}\n")
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
    /// The role as which it has joined.
    #[serde(default = "repairer")]
    pub role: Role,
    /// The version of its app, as given in its last pull; see [`version`](super::version).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub app: Option<String>,
}
