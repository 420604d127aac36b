//! What the sync machine asks of the store: one method for each command. Each is one transaction.

use std::collections::{BTreeMap, BTreeSet};

use shared::log::{Draft, EntryId, ReceivedEntry, SubjectId, UnixMs, inserted};
use shared::sync::Code;
use shared::sync::machine::{BlobSettled, Progress, Settled};
use shared::sync::messages::{Holding, MAX_ASKED};

use crate::store::KvStore;
use crate::store::blobs::{self, Outgoing};
use crate::store::block;
use crate::store::change::RecordChange;
use crate::store::error::StoreError;
use crate::store::ingest;
use crate::store::kv::{Kv, KvTx, Mode};
use crate::store::lookup::Lookup;
use crate::store::meta::Meta;
use crate::store::record::Record;
use crate::store::summaries;
use crate::store::surroundings::Surroundings;
use crate::store::sync::requests;
use crate::store::tables::{BLOB_INFO, BLOBS, BLOCKS, META, TAIL, THUMBS, index};
use crate::store::writing::Writing;

/// The bytes of JSON around the entries of a push.
const AROUND: usize = 32;

/// Stored acknowledged entries by id: when each was received, and the number of its archive row.
pub(in crate::store) type Holdings = BTreeMap<EntryId, (Option<UnixMs>, Option<u64>)>;

impl<K: Kv, S: Surroundings> KvStore<K, S> {
    /// The device's progress in sync.
    ///
    /// # Errors
    /// When the database fails.
    pub async fn progress(&self) -> Result<Progress, StoreError> {
        let meta = self.meta().await?;
        Ok(Progress {
            role: Some(meta.membership.role),
            ..meta.progress
        })
    }

    /// Resets the device's progress: the next round reads everything again, and compares what the device has with what
    /// the server has. Always safe.
    ///
    /// # Errors
    /// As for every write: the database, or a newer app.
    pub async fn read_everything_again(&self) -> Result<(), StoreError> {
        let mut writing = self.write(Mode::Write).await?;
        writing.meta.progress = Progress {
            cursor: None,
            pushed: None,
            in_shop: None,
            history: None,
            compare: true,
            filled: true,
            role: None,
        };
        self.finish(writing).await
    }

    /// Unacknowledged, unrefused entries in the order in which they were made: at most this many bytes of JSON, at
    /// least one entry.
    ///
    /// # Errors
    /// When the database fails.
    pub async fn load_unsent(&self, most: usize) -> Result<Vec<ReceivedEntry>, StoreError> {
        let tx = self.kv.begin(&[TAIL], Mode::Read).await?;
        let mut after = String::new();
        let mut entries = Vec::new();
        let mut bytes = AROUND;
        loop {
            let rows = tx.in_index(TAIL, index::UNSENT, &after, 512).await?;
            let last = rows
                .last()
                .and_then(|row| row.index_value(index::UNSENT))
                .map(str::to_owned);
            for row in &rows {
                // The row is a little longer than the entry: an upper bound that needs no calculation.
                bytes += row.as_text().map_or(0, str::len);
                if bytes > most && !entries.is_empty() {
                    return Ok(entries);
                }
                entries.extend(Record::read(row).map(|record| record.received));
            }
            match last {
                Some(last) => after = last,
                None => return Ok(entries),
            }
        }
    }

    /// Stores the outcome for entries that were sent, and the progress afterwards.
    ///
    /// # Errors
    /// As for every write: the database, or a newer app.
    pub async fn settle(&self, settled: &[Settled], progress: Progress) -> Result<(), StoreError> {
        let mut writing = self.write(Mode::Write).await?;
        move_on(&mut writing, progress);
        let settled: BTreeMap<_, _> = inserted(settled.iter().map(|one| (id_of(one), one)));
        let keys: Vec<_> = settled.keys().map(EntryId::to_string).collect();
        let rows = writing.lookup.tail_rows(&keys).await?;
        let (mut changes, mut requests) = (Vec::new(), Vec::new());
        for before in rows.iter().filter_map(Record::read) {
            let Some(settled) = settled.get(&before.received.entry.id) else {
                continue;
            };
            let mut now = before.clone();
            requests.extend(note_outcome(&mut writing.meta, &mut now, settled));
            changes.push(RecordChange::of_live(before, now));
        }
        changes.extend(self.ask_for_erasures(&mut writing, requests).await?);
        let touched = ingest::apply(&mut writing, changes).await?;
        summaries::refresh(&mut writing, touched).await?;
        self.finish(writing).await
    }

    /// Applies entries from the server and stores the progress with them. Returns the ids of entries that were left out
    /// because another entry with that id is stored.
    ///
    /// # Errors
    /// As for every write: the database, or a newer app.
    pub async fn apply(
        &self,
        entries: Vec<ReceivedEntry>,
        progress: Progress,
    ) -> Result<Vec<EntryId>, StoreError> {
        let mut writing = self.write(Mode::Write).await?;
        let records = entries.into_iter().map(Record::acknowledged).collect();
        let mut touched = ingest::take(&mut writing, records).await?;
        let conflicts = std::mem::take(&mut touched.conflicts);
        summaries::refresh(&mut writing, touched).await?;
        move_on(&mut writing, progress);
        self.finish(writing).await?;
        Ok(conflicts)
    }

    /// The next acknowledged entries after an id, in order of id, at most [`MAX_ASKED`].
    ///
    /// The first page reads every id once, and the others come from memory: an entry saved or acknowledged meanwhile
    /// needs no comparison.
    ///
    /// # Errors
    /// When the database fails.
    pub async fn load_holdings(&self, after: Option<EntryId>) -> Result<Vec<Holding>, StoreError> {
        let kept = self.cache.borrow_mut().holdings.take();
        let holdings = match (after, kept) {
            (Some(_), Some(kept)) => kept,
            _ => self.read_holdings().await?,
        };
        let page: Vec<_> = holdings
            .iter()
            .filter(|(id, _)| after.is_none_or(|after| **id > after))
            .take(MAX_ASKED)
            .map(|(id, (received, _))| Holding {
                id: *id,
                received: *received,
            })
            .collect();
        if !page.is_empty() {
            self.cache.borrow_mut().holdings = Some(holdings);
        }
        Ok(page)
    }

    /// Blank copies that no known erasure explains are left out, because they must not be sent.
    async fn read_holdings(&self) -> Result<Holdings, StoreError> {
        let tx = self.kv.begin(&[META, TAIL, BLOCKS], Mode::Read).await?;
        let erasures = self.meta_in(&tx).await?.erasures;
        let stands = |received: &ReceivedEntry| !erasures.leaves_unexplained(&received.entry);
        let mut holdings = Holdings::new();
        let mut after = String::new();
        loop {
            let rows = tx.after(BLOCKS, &after, 32).await?;
            let Some(last) = rows.last() else { break };
            after.clone_from(&last.key);
            for row in &rows {
                for received in block::entries(row).filter(stands) {
                    hold(&mut holdings, &received, block::number(&row.key));
                }
            }
        }
        after.clear();
        loop {
            let rows = tx.after(TAIL, &after, 2000).await?;
            let Some(last) = rows.last() else {
                return Ok(holdings);
            };
            after.clone_from(&last.key);
            for record in rows.iter().filter_map(Record::read) {
                if record.is_acknowledged() && stands(&record.received) {
                    hold(&mut holdings, &record.received, None);
                } else if !record.is_acknowledged() {
                    holdings.remove(&record.received.entry.id);
                }
            }
        }
    }

    /// Marks acknowledged entries as unacknowledged again; their `received` stays.
    ///
    /// # Errors
    /// As for every write: the database, or a newer app.
    pub async fn mark_unsent(&self, ids: &[EntryId]) -> Result<(), StoreError> {
        let mut blocks = self.blocks_of(ids).await?;
        let mut writing = self.write(Mode::Write).await?;
        let mut found = find(&writing.lookup, ids, &blocks).await?;
        if found.len() < ids.len() {
            // Some were archived since their places were read.
            drop(writing);
            self.cache.borrow_mut().holdings = None;
            blocks = self.blocks_of(ids).await?;
            writing = self.write(Mode::Write).await?;
            found = find(&writing.lookup, ids, &blocks).await?;
        }
        let mut changes = Vec::new();
        for before in found {
            if before.is_acknowledged() {
                let now = Record {
                    unsent: true,
                    ..before.clone()
                };
                changes.push(RecordChange::of_live(before, now));
            }
        }
        ingest::apply(&mut writing, changes).await?;
        self.finish(writing).await
    }

    /// The archive rows that may contain some of these entries.
    async fn blocks_of(&self, ids: &[EntryId]) -> Result<Vec<String>, StoreError> {
        let kept = self.cache.borrow_mut().holdings.take();
        let holdings = match kept {
            Some(kept) => kept,
            None => self.read_holdings().await?,
        };
        let numbers: BTreeSet<_> = inserted(ids.iter().filter_map(|id| holdings.get(id)?.1));
        self.cache.borrow_mut().holdings = Some(holdings);
        Ok(numbers.into_iter().map(block::key).collect())
    }

    /// Marks every stored blob as not confirmed, and stores the progress. What a server keeps for a repairer is to be sent
    /// again, because it may be lost too: the comparison of entries does not include it.
    ///
    /// # Errors
    /// As for every write: the database, or a newer app.
    pub async fn doubt_blobs(&self, progress: Progress) -> Result<(), StoreError> {
        let mut writing = self.write(Mode::Write).await?;
        blobs::change_all(&mut writing, |info| info.confirmed &= !info.present).await?;
        ingest::send_refused_again(&mut writing, Record::is_kept_for_repairer).await?;
        writing.meta.progress = Progress {
            role: None,
            ..progress
        };
        self.finish(writing).await
    }

    /// Marks those of these blobs that are stored as not confirmed: the server lacks them.
    ///
    /// # Errors
    /// As for every write: the database, or a newer app.
    pub async fn want_blobs(&self, hashes: &[String]) -> Result<(), StoreError> {
        let mut writing = self.write(Mode::Write).await?;
        blobs::want(&mut writing, hashes).await?;
        self.finish(writing).await
    }

    /// The hashes of blobs to send, at most [`MAX_ASKED`]: those that failed least often first, then those of the
    /// newest job.
    ///
    /// # Errors
    /// When the database fails.
    pub async fn load_unsent_blobs(&self) -> Result<Vec<String>, StoreError> {
        let tx = self.kv.begin(&[BLOB_INFO], Mode::Read).await?;
        let rows = tx
            .in_index(BLOB_INFO, index::UNSENT, "", MAX_ASKED as u32)
            .await?;
        Ok(rows.into_iter().map(|row| row.key).collect())
    }

    /// A blob with its bytes, to be sent; `None` if they are not on this device.
    ///
    /// # Errors
    /// When the database fails.
    pub async fn outgoing_blob(&self, sha256: &str) -> Result<Option<Outgoing>, StoreError> {
        let tx = self.kv.begin(&[BLOB_INFO, BLOBS, THUMBS], Mode::Read).await?;
        blobs::outgoing(&tx, sha256).await
    }

    /// Stores the outcome for blobs that were sent.
    ///
    /// # Errors
    /// As for every write: the database, or a newer app.
    pub async fn settle_blobs(&self, settled: &[(String, BlobSettled)]) -> Result<(), StoreError> {
        let mut writing = self.write(Mode::Write).await?;
        blobs::settle(&mut writing, settled).await?;
        self.finish(writing).await
    }
}

/// Stores the progress, and the device's role. A comparison that was requested meanwhile (because a backup was restored)
/// stays requested until it is made.
fn move_on<T: KvTx>(writing: &mut Writing<T>, mut progress: Progress) {
    progress.compare |= writing.meta.progress.compare;
    if let Some(role) = progress.role.take() {
        writing.meta.membership.role = role;
    }
    writing.meta.progress = progress;
}

fn id_of(settled: &Settled) -> EntryId {
    match settled {
        Settled::Accepted { id, .. } | Settled::Refused { id, .. } => *id,
    }
}

/// Notes the outcome for an entry that was sent. Returns what the device writes in place of an erasure that was refused.
fn note_outcome(meta: &mut Meta, record: &mut Record, settled: &Settled) -> Option<Draft> {
    match settled {
        Settled::Accepted { received, .. } => {
            record.note_taken();
            let earliest = record
                .received
                .received
                .map_or(*received, |known| known.min(*received));
            record.received.received = Some(earliest);
            // The server does not believe a helper's device in when an entry was received, unless it has asked for it.
            meta.progress.compare |= earliest < *received;
            None
        }
        Settled::Refused { problem, .. } => {
            let request = requests::in_its_place(meta, record, problem);
            record.unsent = false;
            record.retired = request.is_some();
            record.refused = request.is_none().then(|| problem.clone());
            record.left_out |= matches!(problem.code, Code::KeptForRepairer | Code::DroppedByRepairer);
            request
        }
    }
}

/// Notes one copy of an entry; the earlier `received` counts.
fn hold(holdings: &mut Holdings, received: &ReceivedEntry, block: Option<u64>) {
    let known = holdings.entry(received.entry.id).or_default();
    known.0 = match (known.0, received.received) {
        (Some(a), Some(b)) => Some(a.min(b)),
        (a, b) => a.or(b),
    };
    if block.is_some() {
        known.1 = block;
    }
}

/// The records of these entries, from the tail or from these rows of the archive.
async fn find<T: KvTx>(
    lookup: &Lookup<T>,
    ids: &[EntryId],
    blocks: &[String],
) -> Result<Vec<Record>, StoreError> {
    lookup.load(blocks).await?;
    let asked: BTreeMap<_, _> = inserted(ids.iter().map(|id| (*id, ())));
    let mut wanted: BTreeMap<EntryId, SubjectId> = BTreeMap::new();
    for block in blocks.iter().filter_map(|key| lookup.block(key)) {
        wanted.extend(
            block
                .among(&asked)
                .map(|received| (received.entry.id, received.entry.subject.id)),
        );
    }
    let known = lookup.known(&wanted).await?;
    let archived = known.into_values().map(ingest::as_record);
    let keys: Vec<_> = ids
        .iter()
        .filter(|id| !wanted.contains_key(id))
        .map(EntryId::to_string)
        .collect();
    let rows = lookup.tx.get_many(TAIL, &keys).await?;
    Ok(archived
        .chain(rows.iter().flatten().filter_map(Record::read))
        .collect())
}
