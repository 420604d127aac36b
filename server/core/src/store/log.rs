//! Operations on entries and their numbering.

use std::collections::HashMap;
use std::future::Future;

use shared::log::{DeviceId, EntryId, ReceivedEntry, Subject, SubjectId, UnixMs};
use shared::sync::HistoryMark;
use uuid::Uuid;

use super::{BlobHash, DatabaseError};

/// The one row with the shop's id and the counters of its numbering.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Numbering {
    /// The shop's id.
    pub shop: Uuid,
    /// The epoch of the numbering. It changes when the data folder is created or restored.
    pub epoch: Uuid,
    /// The last number given to an entry; 0 before the first.
    pub seq: u64,
    /// The latest `received` given to an entry; it never decreases.
    pub last_received: UnixMs,
    /// How many devices have been given letters.
    pub letters_given: u64,
}

/// An entry as it is stored.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StoredEntry {
    /// The entry; its `received` is always present.
    pub held: ReceivedEntry,
    /// The number it got when it was stored.
    pub seq: u64,
    /// The number at which its subject was first seen.
    pub subject_seq: u64,
}

/// An entry to be stored for the first time, or a blank one that gets its content.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NewEntry {
    /// The entry, with its numbers.
    pub stored: StoredEntry,
    /// The subjects that it concerns, including its own.
    pub about: Vec<SubjectId>,
    /// The blobs its body names.
    pub named: Vec<BlobHash>,
}

/// How new entries have come to the server. It stays on the server.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct PushedBy {
    /// The device that has pushed them; `None` if the server itself has taken them from its ledger.
    pub device: Option<DeviceId>,
    /// When that was by the server's clock, whatever `received` they came with.
    pub at: UnixMs,
}

/// One row of the feed: a number that was given to an entry.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Numbered {
    /// The number.
    pub seq: u64,
    /// A random mark, from which a device sees that the server was set back and has given the same number again.
    pub mark: Uuid,
    /// The entry, as the number it got when it was stored.
    pub entry: u64,
}

/// What is needed of a stored entry to decide whether a device should push its own copy of it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Arrival {
    /// When the server first received it.
    pub received: UnixMs,
    /// Set if the entry is blank; `None` if it has its content.
    pub blank: Option<Blank>,
}

/// What is needed of a blank entry to find out whether an erasure explains it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Blank {
    /// The subject that the entry is about.
    pub subject: Subject,
    /// The entry's kind.
    pub kind: String,
}

/// How much one read may bring into memory. It ends with the row that reaches one of the bounds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Budget {
    /// Most rows.
    pub rows: usize,
    /// Most bytes of bodies.
    pub bytes: usize,
}

/// A part of a longer list.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Page<T> {
    /// The rows read.
    pub rows: Vec<T>,
    /// Whether the list has more rows after these.
    pub more: bool,
}

/// Operations on entries, their numbers, and what they concern.
pub trait LogTx {
    /// The row with the counters.
    fn counter(&mut self) -> impl Future<Output = Result<Numbering, DatabaseError>> + Send;

    /// Replaces the row with the counters.
    fn set_counter(&mut self, counter: &Numbering) -> impl Future<Output = Result<(), DatabaseError>> + Send;

    /// Those of these entries that are stored, in any order.
    fn stored(
        &mut self,
        ids: &[EntryId],
    ) -> impl Future<Output = Result<Vec<StoredEntry>, DatabaseError>> + Send;

    /// When those of these entries that are stored were received, and whether they are blank; without their bodies.
    fn arrivals(
        &mut self,
        ids: &[EntryId],
    ) -> impl Future<Output = Result<HashMap<EntryId, Arrival>, DatabaseError>> + Send;

    /// The numbers at which those of these subjects that are known were first seen.
    fn first_seqs(
        &mut self,
        subjects: &[SubjectId],
    ) -> impl Future<Output = Result<HashMap<SubjectId, u64>, DatabaseError>> + Send;

    /// Stores new entries. A new subject is stored with the entry's `subject_seq`.
    fn insert(
        &mut self,
        entries: &[NewEntry],
        pushed_by: PushedBy,
    ) -> impl Future<Output = Result<(), DatabaseError>> + Send;

    /// Lowers the `received` of a stored entry.
    fn lower(&mut self, seq: u64, received: UnixMs)
    -> impl Future<Output = Result<(), DatabaseError>> + Send;

    /// Empties the body of a stored entry, and removes the links and names of blobs that the body had.
    fn blank(&mut self, stored: &StoredEntry) -> impl Future<Output = Result<(), DatabaseError>> + Send;

    /// Gives a blank stored entry its content, and stores the links and names of blobs in it.
    fn fill(&mut self, entry: &NewEntry) -> impl Future<Output = Result<(), DatabaseError>> + Send;

    /// Appends rows to the feed.
    fn number(&mut self, rows: &[Numbered]) -> impl Future<Output = Result<(), DatabaseError>> + Send;

    /// The mark of this number in the feed.
    fn mark_at(&mut self, seq: u64) -> impl Future<Output = Result<Option<Uuid>, DatabaseError>> + Send;

    /// The rows of the feed after this number, in order, with their entries.
    fn feed_after(
        &mut self,
        seq: u64,
        budget: Budget,
    ) -> impl Future<Output = Result<Page<(Numbered, ReceivedEntry)>, DatabaseError>> + Send;

    /// Entries that were stored up to the number `start`, beginning just after `from`: newest subject first, and for
    /// each subject oldest entry first.
    fn history(
        &mut self,
        start: u64,
        from: Option<HistoryMark>,
        budget: Budget,
    ) -> impl Future<Output = Result<Page<StoredEntry>, DatabaseError>> + Send;

    /// Every entry about these subjects, by the number it got when it was stored.
    fn on(
        &mut self,
        subjects: &[SubjectId],
    ) -> impl Future<Output = Result<Vec<StoredEntry>, DatabaseError>> + Send;

    /// Every entry that concerns these subjects, each once, by the number it got when it was stored.
    fn about(
        &mut self,
        subjects: &[SubjectId],
    ) -> impl Future<Output = Result<Vec<StoredEntry>, DatabaseError>> + Send;

    /// Every entry that names this blob.
    fn naming(
        &mut self,
        blob: &BlobHash,
    ) -> impl Future<Output = Result<Vec<StoredEntry>, DatabaseError>> + Send;

    /// At most `most` blobs that entries name and whose bytes are not stored.
    fn awaited(&mut self, most: usize) -> impl Future<Output = Result<Vec<BlobHash>, DatabaseError>> + Send;

    /// Every blob that any entry names, each once.
    fn all_named(&mut self) -> impl Future<Output = Result<Vec<BlobHash>, DatabaseError>> + Send;

    /// Jobs that were opened and not handed over, and those with a retraction, which may be that of the hand-over. The
    /// caller folds the entries of each to find out whether it is still in the shop.
    fn jobs_perhaps_here(&mut self) -> impl Future<Output = Result<Vec<SubjectId>, DatabaseError>> + Send;

    /// Every subject of kind `shop`.
    fn shop_subjects(&mut self) -> impl Future<Output = Result<Vec<SubjectId>, DatabaseError>> + Send;

    /// Every entry of the kinds that [destroy content](shared::log::is_erasure).
    fn erasures(&mut self) -> impl Future<Output = Result<Vec<ReceivedEntry>, DatabaseError>> + Send;

    /// Every blank entry, by the number it got when it was stored.
    fn blank_entries(&mut self) -> impl Future<Output = Result<Vec<ReceivedEntry>, DatabaseError>> + Send;

    /// The pairs to which these card links belong. Unknown links are left out.
    fn linked_pairs(
        &mut self,
        secrets: &[String],
    ) -> impl Future<Output = Result<HashMap<String, SubjectId>, DatabaseError>> + Send;

    /// Stores that a card link belongs to a pair.
    fn link(
        &mut self,
        secret: &str,
        pair: SubjectId,
    ) -> impl Future<Output = Result<(), DatabaseError>> + Send;

    /// How many entries are stored.
    fn entry_count(&mut self) -> impl Future<Output = Result<u64, DatabaseError>> + Send;

    /// How many rows the feed has.
    fn feed_count(&mut self) -> impl Future<Output = Result<u64, DatabaseError>> + Send;
}

impl StoredEntry {
    /// The subject that the entry is about.
    pub fn subject(&self) -> &Subject {
        &self.held.entry.subject
    }
}
