//! The singletons of the store: rows of `meta`, each JSON, each changed only inside the transaction that
//! changes what it speaks of.

use std::collections::{BTreeMap, BTreeSet};

use serde::de::DeserializeOwned;
use serde::{Deserialize, Serialize};
use serde_json::Value;
use shared::log::{DeviceId, Erasures, SubjectId, UnixMs};
use shared::sync::Problem;
use shared::sync::machine::Progress;
use uuid::Uuid;

use super::error::StoreError;
use super::kv::Row;

/// The version of the layout this app writes.
pub const FORMAT: u32 = 1;

/// The oldest layout whose app may still write to a database this app has written to. Raised only by a change that
/// an older app would destroy; that app then reads and backs up.
pub(super) const OLDEST_APP: u32 = 1;

/// The fields of a row that only a later app knows: kept when this app rewrites the row.
pub type More = BTreeMap<String, Value>;

/// Which app may read the database.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub(super) struct Format {
    /// The newest layout that has ever written here.
    pub(super) version: u32,
    /// The oldest layout whose app may still write here.
    pub(super) oldest_app: u32,
    #[serde(flatten)]
    pub(super) more: More,
}

/// Who this device is. Never leaves it by backup.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub(super) struct DeviceIdentity {
    pub(super) id: DeviceId,
    pub(super) name: String,
    pub(super) made: UnixMs,
    /// The shop's subject until the device joins one, made with the device.
    pub(super) own_shop: SubjectId,
    /// In front of tag numbers while the device has no letters of its own: set when a backup was restored, so
    /// that the copy and its original never hang the same number.
    #[serde(default)]
    pub(super) tag_mark: Option<String>,
    #[serde(flatten)]
    pub(super) more: More,
}

/// How the device belongs to a shop. Survives being shut out: the records stay that shop's.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Membership {
    /// The shop the records belong to, once the device has joined or a backup of a joined device was restored.
    #[serde(default)]
    pub shop: Option<Uuid>,
    /// Where the server is.
    #[serde(default)]
    pub url: Option<String>,
    /// The bearer token; absent while not joined.
    #[serde(default)]
    pub token: Option<String>,
    /// The letters in front of this device's tag numbers.
    #[serde(default)]
    pub letters: Option<String>,
    /// Why the server no longer knows the device, until it joins again.
    #[serde(default)]
    pub shut_out: Option<Problem>,
    /// Fields of a newer app.
    #[serde(flatten)]
    pub more: More,
}

impl Membership {
    /// Whether the device can talk to a server.
    pub fn joined(&self) -> bool {
        self.token.is_some()
    }
}

/// What the device holds, kept up to date by every transaction; for Shop → Sync.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
pub struct StoreCounts {
    /// Entries held.
    pub entries: u64,
    /// Entries no server has acknowledged yet.
    pub unsent: u64,
    /// Entries the server refused.
    pub refused: u64,
    /// Photographs, thumbnails and voice notes whose bytes are here.
    pub blobs: u64,
    /// Those of them not yet confirmed on a server.
    pub unsent_blobs: u64,
    /// Those of them the server refused.
    pub parked_blobs: u64,
    /// Their length in bytes.
    pub bytes: u64,
}

/// Running numbers and greatest values.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
pub(super) struct StoreState {
    pub(super) device_seq: u64,
    /// The last tag number allotted.
    pub(super) tag: u64,
    /// Greatest effective time among acknowledged entries.
    pub(super) acked: Option<UnixMs>,
    /// Greatest effective time among the others.
    pub(super) unsent: Option<UnixMs>,
    pub(super) counts: StoreCounts,
    /// The last archive row.
    pub(super) block: u64,
    /// Search lines ever given out.
    pub(super) slots: u64,
    /// Counts changes of the search lines, so that a loaded index knows that it is old.
    pub(super) search_edition: u64,
    /// Every summary is at least of this fold version.
    pub(super) fold_version: u32,
    #[serde(flatten)]
    pub(super) more: More,
}

impl StoreState {
    /// The greatest effective time stored.
    pub(super) fn greatest(&self) -> Option<UnixMs> {
        self.acked.max(self.unsent)
    }
}

/// Summaries that may be out of date: written with a large batch of entries, worked off afterwards.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
pub(super) struct Stale {
    /// Subjects about which something changed: every pair that refers to them is folded afresh.
    #[serde(default)]
    pub(super) subjects: BTreeSet<SubjectId>,
    /// Pairs to fold whether or not they have a summary yet.
    #[serde(default)]
    pub(super) pairs: BTreeSet<SubjectId>,
    /// Where a walk over all summaries of an older fold version has come to.
    #[serde(default)]
    pub(super) walk: Option<String>,
}

impl Stale {
    pub(super) fn is_empty(&self) -> bool {
        self.subjects.is_empty() && self.pairs.is_empty() && self.walk.is_none()
    }
}

/// All of them, as one transaction sees them.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Meta {
    pub(super) format: Format,
    pub(super) device: DeviceIdentity,
    pub(super) membership: Membership,
    pub(super) progress: Progress,
    pub(super) state: StoreState,
    pub(super) erasures: Erasures,
    pub(super) stale: Stale,
}

/// The keys of the rows, in the order in which [`Meta::read`] takes them.
const KEYS: [&str; 7] = [
    "format",
    "device",
    "membership",
    "progress",
    "state",
    "erasures",
    "stale",
];

impl Meta {
    /// The keys of the rows to read.
    pub(super) fn keys() -> Vec<String> {
        KEYS.map(str::to_owned).to_vec()
    }

    /// Reads the rows under [`Meta::keys`]. `None`: the database is new.
    pub(super) fn read(rows: &[Option<Row>]) -> Result<Option<Meta>, StoreError> {
        let [format, device, membership, progress, state, erasures, stale] = rows else {
            return Ok(None);
        };
        let (Some(format), Some(device)) = (format, device) else {
            return Ok(None);
        };
        Ok(Some(Meta {
            format: decode(format)?,
            device: decode(device)?,
            membership: decode_or_default(membership)?,
            progress: decode_or_default(progress)?,
            state: decode_or_default(state)?,
            erasures: decode_or_default(erasures)?,
            stale: decode_or_default(stale)?,
        }))
    }

    /// The rows that differ from `before`.
    pub(super) fn changed_rows(&self, before: Option<&Meta>) -> Vec<Row> {
        let mut rows = Vec::new();
        push_changed(&mut rows, KEYS[0], &self.format, before.map(|b| &b.format));
        push_changed(&mut rows, KEYS[1], &self.device, before.map(|b| &b.device));
        push_changed(
            &mut rows,
            KEYS[2],
            &self.membership,
            before.map(|b| &b.membership),
        );
        push_changed(&mut rows, KEYS[3], &self.progress, before.map(|b| &b.progress));
        push_changed(&mut rows, KEYS[4], &self.state, before.map(|b| &b.state));
        push_changed(&mut rows, KEYS[5], &self.erasures, before.map(|b| &b.erasures));
        push_changed(&mut rows, KEYS[6], &self.stale, before.map(|b| &b.stale));
        rows
    }
}

fn push_changed<T: Serialize + PartialEq>(rows: &mut Vec<Row>, key: &str, now: &T, before: Option<&T>) {
    if before != Some(now) {
        rows.push(Row::text(key, encode(now)));
    }
}

fn decode_or_default<T: DeserializeOwned + Default>(row: &Option<Row>) -> Result<T, StoreError> {
    row.as_ref().map_or_else(|| Ok(T::default()), decode)
}

fn decode<T: DeserializeOwned>(row: &Row) -> Result<T, StoreError> {
    let read = row.as_text().and_then(|text| serde_json::from_str(text).ok());
    read.ok_or_else(|| StoreError::Unreadable { key: row.key.clone() })
}

/// JSON text of one of the store's own values.
pub(super) fn encode<T: Serialize>(value: &T) -> String {
    serde_json::to_string(value).expect("the store's own types have string keys and no failing serialisers")
}
