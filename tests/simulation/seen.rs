//! What people have been shown.

use std::cell::RefCell;
use std::collections::{BTreeMap, BTreeSet};

use app_core::store::{NewBlob, Saved};
use shared::log::{Entry, EntryId, SubjectId};

/// What people have been shown as done: the promises the checks hold the town to.
#[derive(Debug, Default)]
pub(crate) struct Seen {
    pub(crate) entries: RefCell<BTreeMap<EntryId, Entry>>,
    pub(crate) blobs: RefCell<BTreeMap<String, Vec<u8>>>,
    pub(crate) tags: RefCell<Vec<String>>,
    /// Customers whose erasure was shown as done.
    pub(crate) erased: RefCell<BTreeSet<SubjectId>>,
    /// Customers whose erasure was at least begun.
    pub(crate) erasing: RefCell<BTreeSet<SubjectId>>,
}

impl Seen {
    pub(crate) fn saved(&self, saved: &Saved, blobs: Vec<NewBlob>) {
        for held in &saved.entries {
            self.saved_entry(&held.entry);
        }
        self.tags.borrow_mut().extend(saved.tags.iter().cloned());
        self.blobs
            .borrow_mut()
            .extend(blobs.into_iter().map(|blob| (blob.about.sha256, blob.bytes)));
    }

    pub(crate) fn saved_entry(&self, entry: &Entry) {
        let before = self.entries.borrow_mut().insert(entry.id, entry.clone());
        assert!(before.is_none(), "two entries under one id");
    }

    pub(crate) fn erasing(&self, customer: SubjectId) {
        self.erasing.borrow_mut().insert(customer);
    }

    pub(crate) fn erased(&self, customer: SubjectId) {
        self.erased.borrow_mut().insert(customer);
    }
}
