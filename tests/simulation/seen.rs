//! What people have been shown, and what they have decided: what the checks hold the town to.

use std::cell::{Cell, RefCell};
use std::collections::{BTreeMap, BTreeSet};

use app_core::store::{NewBlob, Saved};
use shared::log::body::MentionErased;
use shared::log::{Body, Entry, EntryId, Erasures, SubjectId};

use crate::blobs_of::blobs_of;

/// What an erasure destroys.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Erasable {
    /// Everything about a subject.
    Subject(SubjectId),
    /// The bytes with this hash.
    Blob(String),
    /// What one entry about this subject says.
    Mention(SubjectId, EntryId),
}

impl Erasable {
    /// What this entry erases or asks to erase; `None` if it does neither.
    pub(crate) fn of(entry: &Entry) -> Option<Self> {
        let blob = match Body::of(entry) {
            Body::Erased(erased) => erased.blob,
            Body::ErasureAsked(asked) => asked.blob,
            Body::MentionErased(erased) => return Some(Self::Mention(entry.subject.id, erased.entry)),
            _ => return None,
        };
        Some(blob.map_or(Self::Subject(entry.subject.id), Self::Blob))
    }

    /// Whether these erasures have destroyed it.
    pub(crate) fn is_gone(&self, erasures: &Erasures) -> bool {
        match self {
            Self::Subject(id) => erasures.subjects.contains(id),
            Self::Blob(hash) => erasures.covers_blob(hash),
            Self::Mention(subject, entry) => erasures.mentions.contains(&(*subject, *entry)),
        }
    }
}

/// What people have been shown as done: the promises the checks hold the town to.
#[derive(Debug, Default)]
pub(crate) struct Seen {
    pub(crate) entries: RefCell<BTreeMap<EntryId, Entry>>,
    pub(crate) blobs: RefCell<BTreeMap<String, Vec<u8>>>,
    pub(crate) tags: RefCell<Vec<String>>,
    /// How often somebody has at least begun to erase this.
    erasing: RefCell<BTreeMap<Erasable, u32>>,
    /// What was erased on a phone that had not joined the shop: it is gone there at once.
    erased_alone: RefCell<BTreeSet<Erasable>>,
    /// Entries that a repairer has dropped, or that the server refused when a repairer took them.
    pub(crate) given_up: RefCell<BTreeSet<EntryId>>,
    /// Whether a backup was read in on another phone.
    pub(crate) restored: Cell<bool>,
}

impl Seen {
    /// Whether these bytes go with an erased subject.
    pub(crate) fn goes_with_subject(&self, erasures: &Erasures, hash: &str) -> bool {
        let entries = self.entries.borrow();
        let mut of_erased = entries
            .values()
            .filter(|entry| erasures.covers_kind(&entry.subject, &entry.kind));
        of_erased.any(|entry| blobs_of(entry).iter().any(|one| one == hash))
    }

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

    /// Somebody is about to erase this: what was asked for may happen even if nobody is told.
    pub(crate) fn erasing(&self, what: Erasable) {
        *self.erasing.borrow_mut().entry(what).or_default() += 1;
    }

    /// The same, for all that this entry erases or asks to erase. What it leaves of an entry can erase a mention in
    /// turn.
    pub(crate) fn erasing_by(&self, entry: &Entry) {
        if let Some(what) = Erasable::of(entry) {
            self.erasing(what);
        }
        let Body::MentionErased(MentionErased { left: Some(left), .. }) = Body::of(entry) else {
            return;
        };
        let body = left.to_string();
        if Body::of_value(&entry.kind, &left) != Body::Unknown {
            self.erasing_by(&Entry {
                body,
                ..entry.clone()
            });
        }
    }

    /// The same, on a phone that has not joined the shop.
    pub(crate) fn erasing_alone(&self, what: Erasable) {
        self.erased_alone.borrow_mut().insert(what.clone());
        self.erasing(what);
    }

    /// How often somebody has at least begun to erase this.
    pub(crate) fn times_erased(&self, what: &Erasable) -> u32 {
        self.erasing.borrow().get(what).copied().unwrap_or(0)
    }

    /// Whether its erasure can be called off without anything left undone: one person wished it, on a phone that has it
    /// still.
    pub(crate) fn may_be_called_off(&self, what: &Erasable) -> bool {
        let alone = self.erased_alone.borrow().contains(what);
        !alone && !self.restored.get() && self.times_erased(what) == 1
    }

    pub(crate) fn give_up(&self, id: EntryId) {
        self.given_up.borrow_mut().insert(id);
    }
}
