//! Moves entries of closed pairs, and of sales without a pair, from the tail into the archive, in the background.

use std::collections::BTreeSet;

use shared::log::{SubjectId, inserted};

use crate::store::KvStore;
use crate::store::error::StoreError;
use crate::store::ingest;
use crate::store::kv::{Kv, KvTx, Mode};
use crate::store::record::Record;
use crate::store::sales;
use crate::store::summaries::PairRow;
use crate::store::surroundings::Surroundings;
use crate::store::tables::{PAIRS, TAIL, index};
use crate::store::writing::Writing;

/// The rows of the tail that are examined in one transaction.
const PAGE: u32 = 2000;

/// Fewer entries than this are not worth an archive row of their own.
const WORTH: usize = 64;

/// How far compaction has come after a step.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Compacted {
    /// More of the tail remains to be examined.
    Partly,
    /// The whole tail was examined.
    Through,
}

impl<K: Kv, S: Surroundings> KvStore<K, S> {
    /// Examines the next part of the tail, and archives acknowledged entries of pairs that have left the shop, and of
    /// tickets without a pair on which goods were sold. Meant for idle times; safe to stop after any step.
    ///
    /// # Errors
    /// As for every write: the database, or a newer app.
    pub async fn compact(&self) -> Result<Compacted, StoreError> {
        let after = std::mem::take(&mut self.cache.borrow_mut().tidied);
        let mut writing = self.write(Mode::Write).await?;
        let rows = writing.tx().after(TAIL, &after, PAGE).await?;
        let Some(last) = rows.last().map(|row| row.key.clone()) else {
            return Ok(Compacted::Through);
        };
        let records = rows.iter().filter_map(Record::read);
        let done: Vec<_> = records.filter(Record::is_acknowledged).collect();
        let closed = closed(&writing, &done).await?;
        let moves: Vec<_> = done
            .into_iter()
            .map(|record| record.received)
            .filter(|received| closed.contains(&received.entry.subject.id))
            .collect();
        if moves.len() >= WORTH {
            let copies = writing.lookup.archived(&ingest::wanted(moves.iter())).await?;
            let moves: Vec<_> = moves.iter().collect();
            ingest::move_to_archive(&mut writing, &moves, &copies).await?;
            self.finish(writing).await?;
        }
        self.cache.borrow_mut().tidied = last;
        Ok(Compacted::Partly)
    }
}

/// The subjects of these records to which only pairs refer that have left the shop, and the tickets of sales alone.
async fn closed<T: KvTx>(
    writing: &Writing<T>,
    records: &[Record],
) -> Result<BTreeSet<SubjectId>, StoreError> {
    let subjects: BTreeSet<_> = inserted(records.iter().map(|record| record.received.entry.subject.id));
    let values: Vec<_> = subjects.iter().map(SubjectId::to_string).collect();
    let pairs = writing.tx().keys_by_index(PAIRS, index::REFS, &values).await?;
    let keys: BTreeSet<_> = inserted(pairs.iter().flatten().cloned());
    let keys: Vec<_> = keys.into_iter().collect();
    let rows = writing.tx().get_many(PAIRS, &keys).await?;
    // A row that only a newer app can read counts as open: its entries stay where they are.
    let open: BTreeSet<_> = inserted(
        keys.iter()
            .zip(&rows)
            .filter(|(_, row)| {
                row.as_ref()
                    .and_then(PairRow::read)
                    .is_none_or(|pair| pair.summary.open())
            })
            .map(|(key, _)| key),
    );
    let sales = sales::stored(writing.tx(), &values).await?;
    let closed = subjects.into_iter().zip(&values).zip(&pairs);
    let closed = closed.filter(|((_, value), pairs)| {
        (!pairs.is_empty() || sales.contains_key(*value)) && pairs.iter().all(|key| !open.contains(key))
    });
    Ok(closed.map(|((subject, _), _)| subject).collect())
}
