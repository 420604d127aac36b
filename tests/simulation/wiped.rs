//! What phones that were shut out have deleted, and what of it is lost because the server was set back afterwards: nobody
//! can hand it over again.

use std::collections::{BTreeMap, BTreeSet};

use shared::log::{Entry, EntryId};

/// What was deleted from phones, and what of it is lost.
#[derive(Debug, Default)]
pub(crate) struct Wiped {
    entries: BTreeMap<EntryId, Entry>,
    blobs: BTreeSet<String>,
    lost: BTreeMap<EntryId, Entry>,
    lost_blobs: BTreeSet<String>,
}

impl Wiped {
    /// A phone has deleted an entry that was on the server.
    pub(crate) fn note(&mut self, entry: &Entry) {
        self.entries.insert(entry.id, entry.clone());
    }

    /// A phone has deleted a photograph that was on the server.
    pub(crate) fn note_blob(&mut self, hash: String) {
        self.blobs.insert(hash);
    }

    /// A phone has deleted a photograph that a server had confirmed before it was set back.
    pub(crate) fn lose_blob(&mut self, hash: String) {
        self.lost_blobs.insert(hash);
    }

    /// The server was set back: what was deleted before, and is now neither on the server nor on any phone, is lost.
    pub(crate) fn set_back(&mut self, held: &BTreeSet<EntryId>, held_blobs: &BTreeSet<String>) {
        let lost = self.entries.iter().filter(|(id, _)| !held.contains(id));
        self.lost.extend(lost.map(|(id, entry)| (*id, entry.clone())));
        self.lost_blobs.extend(self.blobs.difference(held_blobs).cloned());
    }

    /// Whether nothing was ever deleted.
    pub(crate) fn is_empty(&self) -> bool {
        self.entries.is_empty() && self.blobs.is_empty()
    }

    pub(crate) fn has_lost(&self, id: EntryId) -> bool {
        self.lost.contains_key(&id)
    }

    pub(crate) fn has_lost_blob(&self, hash: &str) -> bool {
        self.lost_blobs.contains(hash)
    }

    /// The lost entries.
    pub(crate) fn lost(&self) -> impl Iterator<Item = &Entry> {
        self.lost.values()
    }
}
