//! The tables of the database in memory.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use server_core::store::{
    BlobHash, BlobRow, CountedErasure, DeviceRow, JoinCodeRow, Numbered, Numbering, PushedBy, StoredEntry,
    TokenRow,
};
use shared::log::{DeviceId, EntryId, SubjectId, SubjectKind};
use shared::sync::messages::KeptAside;

/// Every table, by its key.
#[derive(Debug, Clone)]
pub(super) struct State {
    pub(super) counter: Numbering,
    pub(super) entries: BTreeMap<u64, Arc<StoredEntry>>,
    pub(super) ids: BTreeMap<EntryId, u64>,
    pub(super) subjects: BTreeMap<SubjectId, (SubjectKind, u64)>,
    pub(super) about: BTreeSet<(SubjectId, u64)>,
    pub(super) named: BTreeSet<(BlobHash, u64)>,
    pub(super) feed: BTreeMap<u64, Numbered>,
    pub(super) links: BTreeMap<String, SubjectId>,
    pub(super) awaited: BTreeSet<BlobHash>,
    pub(super) blobs: BTreeMap<BlobHash, BlobRow>,
    pub(super) devices: BTreeMap<DeviceId, DeviceRow>,
    pub(super) tokens: BTreeMap<[u8; 32], TokenRow>,
    pub(super) codes: BTreeMap<[u8; 32], JoinCodeRow>,
    pub(super) pushed_by: BTreeMap<u64, PushedBy>,
    /// By a running number; without content once it was dropped.
    pub(super) aside: BTreeMap<u64, (EntryId, Option<KeptAside>)>,
    pub(super) counted: Vec<CountedErasure>,
}

impl State {
    pub(super) fn new(counter: Numbering) -> Self {
        Self {
            counter,
            entries: BTreeMap::new(),
            ids: BTreeMap::new(),
            subjects: BTreeMap::new(),
            about: BTreeSet::new(),
            named: BTreeSet::new(),
            feed: BTreeMap::new(),
            links: BTreeMap::new(),
            awaited: BTreeSet::new(),
            blobs: BTreeMap::new(),
            devices: BTreeMap::new(),
            tokens: BTreeMap::new(),
            codes: BTreeMap::new(),
            pushed_by: BTreeMap::new(),
            aside: BTreeMap::new(),
            counted: Vec::new(),
        }
    }

    /// The entries with these numbers, each once, in order.
    pub(super) fn at(&self, seqs: impl IntoIterator<Item = u64>) -> Vec<StoredEntry> {
        let seqs: BTreeSet<u64> = seqs.into_iter().collect();
        seqs.iter()
            .filter_map(|seq| self.entries.get(seq))
            .map(|stored| (**stored).clone())
            .collect()
    }
}
