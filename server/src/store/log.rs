//! The verbs on entries and their numbering.

use std::collections::HashMap;
use std::future::Future;

use shared::log::{EntryId, ReceivedEntry, Subject, SubjectId, UnixMs};
use shared::sync::HistoryMark;
use uuid::Uuid;

use super::{BlobHash, DatabaseError};

/// The one row every numbering goes through.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Numbering {
    /// The shop.
    pub shop: Uuid,
    /// Changes when the data folder is made or restored.
    pub epoch: Uuid,
    /// The last number given; 0 before the first.
    pub seq: u64,
    /// The latest `received` given; never runs backwards.
    pub last_received: UnixMs,
    /// How many devices have been given letters.
    pub letters_given: u64,
}

/// An entry as it is stored.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StoredEntry {
    /// The entry; its `received` is always present.
    pub held: ReceivedEntry,
    /// The number it was first given.
    pub seq: u64,
    /// The number at which its subject was first seen.
    pub subject_seq: u64,
}

/// An entry to be stored for the first time.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NewEntry {
    /// The entry and its numbers.
    pub stored: StoredEntry,
    /// The subjects it concerns, its own among them.
    pub about: Vec<SubjectId>,
    /// The blobs its body names.
    pub named: Vec<BlobHash>,
}

/// One number of the feed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Numbered {
    /// The number.
    pub seq: u64,
    /// Random, so that the same number given twice is noticed.
    pub mark: Uuid,
    /// The entry, by its first number.
    pub entry: u64,
}

/// What a device needs to know of a stored entry to decide whether to offer its own copy.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Arrival {
    /// When it was first taken.
    pub received: UnixMs,
    /// What is known of a blank entry; absent while the entry has its content.
    pub blank: Option<Blank>,
}

/// What tells whether an erasure explains that an entry is blank.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Blank {
    /// What the entry is on.
    pub subject: Subject,
    /// The entry's kind.
    pub kind: String,
}

/// How much one read may bring into memory: it stops after the row that passes either bound.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Budget {
    /// Rows.
    pub rows: usize,
    /// Bytes of bodies.
    pub bytes: usize,
}

/// Part of a longer list.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Page<T> {
    /// The rows read.
    pub rows: Vec<T>,
    /// Whether the budget ended the reading before the list did.
    pub more: bool,
}

/// Entries, their numbers, and what they concern.
pub trait LogTx {
    /// The counter row.
    fn counter(&mut self) -> impl Future<Output = Result<Numbering, DatabaseError>> + Send;

    /// Replaces the counter row.
    fn set_counter(&mut self, counter: &Numbering) -> impl Future<Output = Result<(), DatabaseError>> + Send;

    /// Those of these entries that are stored, in no order.
    fn stored(
        &mut self,
        ids: &[EntryId],
    ) -> impl Future<Output = Result<Vec<StoredEntry>, DatabaseError>> + Send;

    /// What is known of those of these entries that are stored, without their bodies.
    fn arrivals(
        &mut self,
        ids: &[EntryId],
    ) -> impl Future<Output = Result<HashMap<EntryId, Arrival>, DatabaseError>> + Send;

    /// The first numbers of those of these subjects that are known.
    fn first_seqs(
        &mut self,
        subjects: &[SubjectId],
    ) -> impl Future<Output = Result<HashMap<SubjectId, u64>, DatabaseError>> + Send;

    /// Stores new entries. A subject seen for the first time is remembered with the entry's `subject_seq`.
    fn insert(&mut self, entries: &[NewEntry]) -> impl Future<Output = Result<(), DatabaseError>> + Send;

    /// Lowers the `received` of a stored entry.
    fn lower(&mut self, seq: u64, received: UnixMs)
    -> impl Future<Output = Result<(), DatabaseError>> + Send;

    /// Empties the body of a stored entry and forgets what it linked to and named.
    fn blank(&mut self, stored: &StoredEntry) -> impl Future<Output = Result<(), DatabaseError>> + Send;

    /// Gives a blank stored entry its content back, and what that links to and names.
    fn fill(&mut self, entry: &NewEntry) -> impl Future<Output = Result<(), DatabaseError>> + Send;

    /// Appends to the feed.
    fn number(&mut self, rows: &[Numbered]) -> impl Future<Output = Result<(), DatabaseError>> + Send;

    /// The mark that stands at this number.
    fn mark_at(&mut self, seq: u64) -> impl Future<Output = Result<Option<Uuid>, DatabaseError>> + Send;

    /// The feed after this number, in order.
    fn feed_after(
        &mut self,
        seq: u64,
        budget: Budget,
    ) -> impl Future<Output = Result<Page<(Numbered, ReceivedEntry)>, DatabaseError>> + Send;

    /// Entries first numbered at or before `start`, newest subject first, oldest entry first inside a subject,
    /// from just after `from`.
    fn history(
        &mut self,
        start: u64,
        from: Option<HistoryMark>,
        budget: Budget,
    ) -> impl Future<Output = Result<Page<StoredEntry>, DatabaseError>> + Send;

    /// Every entry on these subjects, in the order of their first numbers.
    fn on(
        &mut self,
        subjects: &[SubjectId],
    ) -> impl Future<Output = Result<Vec<StoredEntry>, DatabaseError>> + Send;

    /// Every entry that concerns these subjects, each once, in the order of their first numbers.
    fn about(
        &mut self,
        subjects: &[SubjectId],
    ) -> impl Future<Output = Result<Vec<StoredEntry>, DatabaseError>> + Send;

    /// Every entry that names this blob.
    fn naming(
        &mut self,
        blob: &BlobHash,
    ) -> impl Future<Output = Result<Vec<StoredEntry>, DatabaseError>> + Send;

    /// Blobs that entries name and whose bytes are not here, at most so many.
    fn awaited(&mut self, most: usize) -> impl Future<Output = Result<Vec<BlobHash>, DatabaseError>> + Send;

    /// Every blob that any entry names, each once.
    fn all_named(&mut self) -> impl Future<Output = Result<Vec<BlobHash>, DatabaseError>> + Send;

    /// Jobs that are opened and not handed over, with some that only a reading of their retractions can rule
    /// out.
    fn jobs_perhaps_here(&mut self) -> impl Future<Output = Result<Vec<SubjectId>, DatabaseError>> + Send;

    /// The subjects of kind `shop`.
    fn shop_subjects(&mut self) -> impl Future<Output = Result<Vec<SubjectId>, DatabaseError>> + Send;

    /// Every entry of kind `erased`.
    fn erasures(&mut self) -> impl Future<Output = Result<Vec<ReceivedEntry>, DatabaseError>> + Send;

    /// Every entry that is blank, in the order of their first numbers.
    fn blank_entries(&mut self) -> impl Future<Output = Result<Vec<ReceivedEntry>, DatabaseError>> + Send;

    /// The pairs these card links belong to, as far as they are known.
    fn linked_pairs(
        &mut self,
        secrets: &[String],
    ) -> impl Future<Output = Result<HashMap<String, SubjectId>, DatabaseError>> + Send;

    /// Binds a card link to a pair.
    fn link(
        &mut self,
        secret: &str,
        pair: SubjectId,
    ) -> impl Future<Output = Result<(), DatabaseError>> + Send;

    /// How many entries are stored.
    fn entry_count(&mut self) -> impl Future<Output = Result<u64, DatabaseError>> + Send;

    /// How many numbers the feed holds.
    fn feed_count(&mut self) -> impl Future<Output = Result<u64, DatabaseError>> + Send;
}

impl StoredEntry {
    /// What the entry is on.
    pub fn subject(&self) -> &Subject {
        &self.held.entry.subject
    }
}
