//! Finds entries by their subjects, in the tail and in the archive, and merges the copies.

use std::cell::RefCell;
use std::collections::btree_map::Entry;
use std::collections::{BTreeMap, BTreeSet};
use std::rc::Rc;

use shared::log::fold::{Entries, PairHistory, PairHistoryLoader, PairLinks};
use shared::log::{EntryId, Erasures, ReceivedEntry, SubjectId, about, inserted};

use super::block::ArchiveRow;
use super::kv::{KeyRange, KvError, KvTx, Row};
use super::range_scan::{self, Overread};
use super::record::Record;
use super::tables::{BLOCKS, TAIL, index};

/// A transaction that covers at least [`TAIL`] and [`BLOCKS`], with the archive rows it has read so far.
///
/// The rows are cached only for the duration of the transaction, because another tab may erase content at any other
/// time.
pub(super) struct Lookup<T> {
    /// The transaction.
    pub(super) tx: T,
    blocks: RefCell<BTreeMap<String, Rc<ArchiveRow>>>,
    /// The whole tail by subject, for a transaction that no longer writes to it and works through many subjects.
    tail: RefCell<Option<BTreeMap<SubjectId, Vec<Record>>>>,
}

/// The copy of an entry that the device has stored.
#[derive(Debug, Clone)]
pub(super) enum HeldCopy {
    /// In a row of the tail.
    Live(Record),
    /// In a line of the archive.
    Archived(ReceivedEntry),
}

impl HeldCopy {
    /// The stored entry.
    pub(super) fn received(&self) -> &ReceivedEntry {
        match self {
            Self::Live(record) => &record.received,
            Self::Archived(received) => received,
        }
    }
}

/// The history of a pair, as a look-up found it.
#[derive(Debug)]
pub(super) struct FoundPair {
    /// The history.
    pub(super) history: PairHistory,
    /// Whether any entry is about the pair.
    pub(super) known: bool,
}

/// What look-ups have found so far: every entry about each subject.
pub(super) type LookedUp = BTreeMap<SubjectId, Vec<ReceivedEntry>>;

/// Whether any entry says or once said that this subject is the same as another one.
fn is_joined(found: &LookedUp, subject: &SubjectId) -> bool {
    let about = found.get(subject);
    about.is_some_and(|about| about.iter().any(|received| received.entry.kind == "same_as"))
}

impl<T: KvTx> Lookup<T> {
    pub(super) fn new(tx: T) -> Self {
        Self {
            tx,
            blocks: RefCell::default(),
            tail: RefCell::default(),
        }
    }

    /// For each of these subjects, which must be in order, every entry about it, by id; without what is set aside or left
    /// out.
    pub(super) async fn about(&self, subjects: &[SubjectId]) -> Result<Vec<Vec<ReceivedEntry>>, KvError> {
        let values: Vec<_> = subjects.iter().map(SubjectId::to_string).collect();
        let tail = self.live_about(subjects, &values).await?;
        let keys = self.blocks_about(&values).await?;
        self.load(&keys).await?;
        let mut places: BTreeMap<_, Vec<_>> = inserted(subjects.iter().map(|subject| (*subject, Vec::new())));
        for block in keys.iter().filter_map(|key| self.block(key)) {
            for subject in block.subjects() {
                if let Some(blocks) = places.get_mut(&subject) {
                    blocks.push(Rc::clone(&block));
                }
            }
        }
        let found = subjects.iter().zip(tail).map(|(subject, live)| {
            let (read, unread): (Vec<_>, Vec<_>) = live.into_iter().partition(Record::is_read);
            // A copy in the archive is from before the server lost the entry.
            let is_unread = |id: EntryId| unread.iter().any(|record| record.received.entry.id == id);
            let mut entries = Entries::default();
            for block in places.get(subject).into_iter().flatten() {
                let archived = block.about(*subject);
                for received in archived.filter(|received| !is_unread(received.entry.id)) {
                    entries.take(received.clone());
                }
            }
            for record in read {
                entries.take(record.received);
            }
            entries.iter().cloned().collect()
        });
        Ok(found.collect())
    }

    /// For each subject, the records in the tail about it. `values` are the subjects as index values.
    async fn live_about(
        &self,
        subjects: &[SubjectId],
        values: &[String],
    ) -> Result<Vec<Vec<Record>>, KvError> {
        if let Some(tail) = self.tail.borrow().as_ref() {
            let of = |subject| tail.get(subject).cloned().unwrap_or_default();
            return Ok(subjects.iter().map(of).collect());
        }
        let rows = self.tx.by_index(TAIL, index::ABOUT, values).await?;
        let records = |rows: &Vec<Row>| rows.iter().filter_map(Record::read).collect();
        Ok(rows.iter().map(records).collect())
    }

    /// Reads a short tail once for all look-ups of this transaction, which must no longer write to it.
    pub(super) async fn hold_tail(&self) -> Result<(), KvError> {
        let rows = self.tx.after(TAIL, "", SHORT_TAIL).await?;
        if rows.len() < SHORT_TAIL as usize {
            let mut by_subject: BTreeMap<_, Vec<_>> = BTreeMap::new();
            for record in rows.iter().filter_map(Record::read) {
                for subject in about(&record.received.entry) {
                    by_subject.entry(subject).or_default().push(record.clone());
                }
            }
            *self.tail.borrow_mut() = Some(by_subject);
        }
        Ok(())
    }

    /// The stored copies of these entries. Each is given with its subject, by which the archive is searched.
    pub(super) async fn known(
        &self,
        wanted: &BTreeMap<EntryId, SubjectId>,
    ) -> Result<BTreeMap<EntryId, HeldCopy>, KvError> {
        let archived = self.archived(wanted).await?;
        let mut known: BTreeMap<_, _> = inserted(
            archived
                .into_iter()
                .map(|(id, received)| (id, HeldCopy::Archived(received))),
        );
        for mut record in self.live(wanted).await? {
            let id = record.received.entry.id;
            if let Some(HeldCopy::Archived(received)) = known.get(&id) {
                record.received.merge(received, &Erasures::default());
            }
            known.insert(id, HeldCopy::Live(record));
        }
        Ok(known)
    }

    /// Those of these entries that are in the archive.
    pub(super) async fn archived(
        &self,
        wanted: &BTreeMap<EntryId, SubjectId>,
    ) -> Result<BTreeMap<EntryId, ReceivedEntry>, KvError> {
        let subjects: BTreeSet<_> = inserted(wanted.values().map(SubjectId::to_string));
        let subjects: Vec<_> = subjects.into_iter().collect();
        let keys = self.blocks_about(&subjects).await?;
        self.load(&keys).await?;
        let mut archived: BTreeMap<EntryId, ReceivedEntry> = BTreeMap::new();
        for block in keys.iter().filter_map(|key| self.block(key)) {
            for received in block.among(wanted) {
                match archived.entry(received.entry.id) {
                    Entry::Occupied(mut first) => {
                        first.get_mut().merge(received, &Erasures::default());
                    }
                    Entry::Vacant(free) => {
                        free.insert(received.clone());
                    }
                }
            }
        }
        Ok(archived)
    }

    /// The rows of the tail with these ids.
    async fn live(&self, wanted: &BTreeMap<EntryId, SubjectId>) -> Result<Vec<Record>, KvError> {
        let keys: Vec<_> = wanted.keys().map(EntryId::to_string).collect();
        let rows = self.tail_rows(&keys).await?;
        let records = rows.iter().filter_map(Record::read);
        Ok(records
            .filter(|record| wanted.contains_key(&record.received.entry.id))
            .collect())
    }

    /// The rows of the tail with these keys, which must be in order; other rows may be among them.
    pub(super) async fn tail_rows(&self, keys: &[String]) -> Result<Vec<Row>, KvError> {
        if keys.len() > SMALL
            && let Some(span) = KeyRange::over(keys)
            && self.tx.count_within(TAIL, span).await? <= 2 * keys.len() as u64
        {
            // Entries made in one save are next to each other, and are read faster as a range than one by one.
            return self.tx.within(TAIL, span).await;
        }
        let rows = self.tx.get_many(TAIL, keys).await?;
        Ok(rows.into_iter().flatten().collect())
    }

    /// Deletes the rows of the tail with these keys, which must be in order and must all exist.
    pub(super) async fn drop_from_tail(&self, keys: &[String]) -> Result<(), KvError> {
        match KeyRange::over(keys) {
            Some(span) if self.tx.count_within(TAIL, span).await? == keys.len() as u64 => {
                self.tx.delete_within(TAIL, span);
            }
            _ => keys.iter().for_each(|key| self.tx.delete(TAIL, key)),
        }
        Ok(())
    }

    /// The histories of these pairs; one history for all that are the same pair. The subjects of one level of links are
    /// looked up for all pairs at once.
    pub(super) async fn histories(&self, pairs: &[SubjectId]) -> Result<Vec<FoundPair>, KvError> {
        self.histories_in(&mut LookedUp::new(), pairs).await
    }

    /// The same, and what was looked up for it.
    pub(super) async fn histories_in(
        &self,
        found: &mut LookedUp,
        pairs: &[SubjectId],
    ) -> Result<Vec<FoundPair>, KvError> {
        self.look_up(found, pairs.iter().copied()).await?;
        let (joined, alone): (Vec<_>, Vec<_>) =
            pairs.iter().copied().partition(|pair| is_joined(found, pair));
        let mut histories = self.load_histories(found, &alone).await?;
        if joined.len() > 1 {
            self.follow_links(found, &joined).await?;
        }
        let mut loaded = BTreeSet::new();
        for pair in joined {
            if !loaded.contains(&pair) {
                let history = self.load_histories(found, &[pair]).await?;
                loaded.extend(history.iter().flat_map(|one| &one.history.same).copied());
                histories.extend(history);
            }
        }
        Ok(histories)
    }

    /// Looks up those of these subjects that have not been looked up yet.
    async fn look_up(
        &self,
        found: &mut LookedUp,
        wanted: impl Iterator<Item = SubjectId>,
    ) -> Result<(), KvError> {
        let new: BTreeSet<_> = inserted(wanted.filter(|id| !found.contains_key(id)));
        if new.is_empty() {
            return Ok(());
        }
        let new: Vec<_> = new.into_iter().collect();
        found.extend(new.iter().copied().zip(self.about(&new).await?));
        Ok(())
    }

    /// Looks up everything that belongs to the histories of these pairs.
    async fn follow_links(&self, found: &mut LookedUp, pairs: &[SubjectId]) -> Result<(), KvError> {
        let mut links = PairLinks::of(pairs);
        loop {
            let wanted = links.wanted();
            if wanted.is_empty() {
                return Ok(());
            }
            self.look_up(found, wanted.iter().copied()).await?;
            for id in wanted {
                links.give(id, found.get(&id).map_or(&[][..], Vec::as_slice));
            }
        }
    }

    /// Loads one history for each of these pairs.
    async fn load_histories(
        &self,
        found: &mut LookedUp,
        pairs: &[SubjectId],
    ) -> Result<Vec<FoundPair>, KvError> {
        let mut loaders: Vec<_> = pairs.iter().map(|pair| PairHistoryLoader::pair(*pair)).collect();
        loop {
            let wanted: Vec<_> = loaders.iter_mut().map(PairHistoryLoader::wanted).collect();
            if wanted.iter().all(Vec::is_empty) {
                break;
            }
            self.look_up(found, wanted.iter().flatten().copied()).await?;
            for (loader, ids) in loaders.iter_mut().zip(wanted) {
                for id in ids {
                    loader.give(id, found.get(&id).into_iter().flatten());
                }
            }
        }
        let heard_of = |id: &SubjectId| found.get(id).is_some_and(|about| !about.is_empty());
        let histories = loaders.into_iter().map(PairHistoryLoader::finish);
        Ok(histories
            .map(|history| FoundPair {
                known: history.same.iter().any(heard_of),
                history,
            })
            .collect())
    }

    /// The keys of every archive row with entries about these subjects, which must be in order, and perhaps of other
    /// rows.
    pub(super) async fn blocks_about(&self, subjects: &[String]) -> Result<BTreeSet<String>, KvError> {
        range_scan::keys(&self.tx, (BLOCKS, index::ABOUT), subjects, Overread::Much).await
    }

    /// Reads the archive rows that were not read before.
    pub(super) async fn load(&self, keys: impl IntoIterator<Item = &String>) -> Result<(), KvError> {
        let missing: BTreeSet<_> = {
            let loaded = self.blocks.borrow();
            keys.into_iter()
                .filter(|key| !loaded.contains_key(*key))
                .cloned()
                .collect()
        };
        if missing.is_empty() {
            return Ok(());
        }
        let missing: Vec<_> = missing.into_iter().collect();
        let rows = self.tx.get_many(BLOCKS, &missing).await?;
        for row in rows.into_iter().flatten() {
            if let Some(text) = row.as_text() {
                let block = Rc::new(ArchiveRow::read(text));
                self.blocks.borrow_mut().insert(row.key.clone(), block);
            }
        }
        Ok(())
    }

    /// An archive row that was read before.
    pub(super) fn block(&self, key: &str) -> Option<Rc<ArchiveRow>> {
        self.blocks.borrow().get(key).cloned()
    }

    /// Writes an archive row, which then need not be read again in this transaction.
    pub(super) fn put_block(&self, key: &str, block: ArchiveRow) {
        self.tx.put(BLOCKS, block.row(key));
        self.blocks.borrow_mut().insert(key.to_owned(), Rc::new(block));
    }
}

/// Fewer ids than this are always looked up one by one.
const SMALL: usize = 64;

/// A tail of fewer rows than this is read faster as a whole than by looking up hundreds of subjects.
const SHORT_TAIL: u32 = 256;

#[cfg(test)]
mod tests;
