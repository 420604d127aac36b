//! The singletons of the store: rows of `meta`, each JSON, each changed only in the transaction that changes what it
//! describes.

use std::collections::{BTreeMap, BTreeSet};

use serde::de::DeserializeOwned;
use serde::{Deserialize, Serialize};
use serde_json::Value;
use shared::log::body::Role;
use shared::log::{DeviceId, Erasures, SubjectId, UnixMs};
use shared::sync::Problem;
use shared::sync::machine::Progress;
use uuid::Uuid;

use super::error::StoreError;
use super::kv::Row;

/// The version of the layout that this app writes.
pub const FORMAT: u32 = 1;

/// The oldest layout version whose app may still write to a database to which this app has written. It is raised only
/// by a change whose data an older app would destroy; that app may then only read and back up.
pub(super) const OLDEST_APP: u32 = 1;

/// The fields of a row that only a later app knows: they are kept when this app rewrites the row.
pub type More = BTreeMap<String, Value>;

/// Which apps may read and write the database.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub(super) struct Format {
    /// The newest layout version that has ever written to it.
    pub(super) version: u32,
    /// The oldest layout version whose app may still write to it.
    pub(super) oldest_app: u32,
    #[serde(flatten)]
    pub(super) more: More,
}

/// The identity of this device. It is never part of a backup.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub(super) struct DeviceIdentity {
    pub(super) id: DeviceId,
    pub(super) name: String,
    pub(super) made: UnixMs,
    /// The id of the shop's subject until the device joins a shop; made with the device.
    pub(super) own_shop: SubjectId,
    /// The letters before tag numbers as long as the device has no letters from a server. Set when a backup was
    /// restored, so that the copy and its original never give out the same number.
    #[serde(default)]
    pub(super) tag_mark: Option<String>,
    #[serde(flatten)]
    pub(super) more: More,
}

/// The device's membership of a shop. It outlasts the loss of access: the entries stay that shop's.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Membership {
    /// The shop to which the entries belong, once the device has joined or a backup of a joined device was restored.
    #[serde(default)]
    pub shop: Option<Uuid>,
    /// The address of the server.
    #[serde(default)]
    pub url: Option<String>,
    /// The bearer token; absent if the device is not joined.
    #[serde(default)]
    pub token: Option<String>,
    /// The letters before this device's tag numbers.
    #[serde(default)]
    pub letters: Option<String>,
    /// Why the server refuses the device, until it joins again.
    #[serde(default)]
    pub shut_out: Option<Problem>,
    /// What the device may do, as the server has told it last. Before there were roles, every device could do everything.
    #[serde(default = "repairer")]
    pub role: Role,
    /// Fields of a newer app.
    #[serde(flatten)]
    pub more: More,
}

fn repairer() -> Role {
    Role::Repairer
}

/// That of a device that has never joined a shop.
impl Default for Membership {
    fn default() -> Self {
        Self {
            shop: None,
            url: None,
            token: None,
            letters: None,
            shut_out: None,
            role: repairer(),
            more: More::new(),
        }
    }
}

impl Membership {
    /// Whether the device has access to a server.
    pub fn joined(&self) -> bool {
        self.token.is_some()
    }

    /// Whether the device may not do what only repairers do. A role that this version does not know may do no more than a
    /// helper.
    pub fn is_helper(&self) -> bool {
        self.role != Role::Repairer
    }
}

/// The counters of what is stored, updated by every transaction; shown in Shop → Sync.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
pub struct StoreCounts {
    /// Entries stored.
    pub entries: u64,
    /// Entries no server has acknowledged yet.
    pub unsent: u64,
    /// Entries the server refused.
    pub refused: u64,
    /// Photographs, thumbnails and voice notes whose bytes are on this device.
    pub blobs: u64,
    /// Those of them that no server has confirmed.
    pub unsent_blobs: u64,
    /// Those of them that the server refused.
    pub parked_blobs: u64,
    /// Their length in bytes.
    pub bytes: u64,
}

/// Running numbers and greatest values of the store.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
pub(super) struct StoreState {
    pub(super) device_seq: u64,
    /// The last tag number allotted.
    pub(super) tag: u64,
    /// The greatest effective time among acknowledged entries.
    pub(super) acked: Option<UnixMs>,
    /// The greatest effective time among unacknowledged entries.
    pub(super) unsent: Option<UnixMs>,
    pub(super) counts: StoreCounts,
    /// The number of the last archive row.
    pub(super) block: u64,
    /// How many search lines were ever allotted.
    pub(super) slots: u64,
    /// The edition of the search lines: it changes with them, so that a loaded index is known to be out of date.
    pub(super) search_edition: u64,
    /// The least fold version of any summary.
    pub(super) fold_version: u32,
    #[serde(flatten)]
    pub(super) more: More,
}

impl StoreState {
    /// The greatest effective time of all stored entries.
    pub(super) fn greatest(&self) -> Option<UnixMs> {
        self.acked.max(self.unsent)
    }
}

/// Summaries that may be out of date: noted with a large batch of entries, and folded afterwards.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
pub(super) struct Stale {
    /// Subjects with changed entries: every pair that refers to them is folded afresh.
    #[serde(default)]
    pub(super) subjects: BTreeSet<SubjectId>,
    /// Pairs to fold whether or not they have a summary yet.
    #[serde(default)]
    pub(super) pairs: BTreeSet<SubjectId>,
    /// Tickets whose row of sales is to be folded afresh.
    #[serde(default)]
    pub(super) tickets: BTreeSet<SubjectId>,
    /// Customers whose search line is to be made afresh.
    #[serde(default)]
    pub(super) customers: BTreeSet<SubjectId>,
    /// The key up to which all summaries of an older fold version were folded afresh.
    #[serde(default)]
    pub(super) walk: Option<String>,
}

impl Stale {
    pub(super) fn is_empty(&self) -> bool {
        let sets = [&self.subjects, &self.pairs, &self.tickets, &self.customers];
        sets.into_iter().all(BTreeSet::is_empty) && self.walk.is_none()
    }
}

/// All singletons, as one transaction reads them.
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

/// The keys of the rows, in the order in which [`Meta::read`] expects them.
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

    /// Reads the rows with the keys in [`Meta::keys`]. `None`: the database is new.
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

/// The JSON text of one of the store's own values.
pub(super) fn encode<T: Serialize>(value: &T) -> String {
    serde_json::to_string(value).expect("the store's own types have string keys and no failing serialisers")
}
