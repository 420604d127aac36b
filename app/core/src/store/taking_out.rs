//! Reading everything on the device in pages, for files that other programs read.

use std::collections::BTreeSet;

use shared::log::{EntryId, ReceivedEntry, SubjectId};

use super::KvStore;
use super::block;
use super::error::StoreError;
use super::kv::{Kv, KvTx, Mode, Row};
use super::record::Record;
use super::surroundings::Surroundings;
use super::tables::{BLOCKS, PAIRS, TAIL};

/// Rows of the tail that are read at a time.
const TAIL_ROWS: u32 = 1000;
/// Rows of the archive that are read at a time.
const ARCHIVE_ROWS: u32 = 16;

/// How far the entries were read. The default is their beginning.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct EntriesCursor {
    /// Whether the tail was read to its end.
    in_archive: bool,
    /// The key of the last row that was read.
    after: String,
    /// The entries that were met, those in the tail whether they are read or not: copies in the archive are older.
    met: BTreeSet<EntryId>,
}

impl<K: Kv, S: Surroundings> KvStore<K, S> {
    /// The next entries that the device reads, each once, in no particular order; and where to go on, `None` at the end.
    /// A page may be empty.
    ///
    /// # Errors
    /// When the database fails.
    pub async fn entries_page(
        &self,
        mut cursor: EntriesCursor,
    ) -> Result<(Vec<ReceivedEntry>, Option<EntriesCursor>), StoreError> {
        // The tail is read first: an entry that is archived meanwhile is then left out of the archive.
        let (table, limit) = if cursor.in_archive {
            (BLOCKS, ARCHIVE_ROWS)
        } else {
            (TAIL, TAIL_ROWS)
        };
        let tx = self.kv.begin(&[table], Mode::Read).await?;
        let rows = tx.after(table, &cursor.after, limit).await?;
        drop(tx);
        let Some(last) = rows.last() else {
            let is_end = std::mem::replace(&mut cursor.in_archive, true);
            cursor.after.clear();
            return Ok((Vec::new(), (!is_end).then_some(cursor)));
        };
        cursor.after.clone_from(&last.key);
        let entries = if cursor.in_archive {
            let archived = rows.iter().flat_map(block::entries);
            archived
                .filter(|received| cursor.met.insert(received.entry.id))
                .collect()
        } else {
            let records: Vec<Record> = rows.iter().filter_map(Record::read).collect();
            let ids = records.iter().map(|record| record.received.entry.id);
            cursor.met.extend(ids);
            let read = records.into_iter().filter(Record::is_read);
            read.map(|record| record.received).collect()
        };
        Ok((entries, Some(cursor)))
    }

    /// At most `limit` pairs after this one, in order of id; `None` begins with the first.
    ///
    /// # Errors
    /// When the database fails.
    pub async fn pairs_after(
        &self,
        after: Option<SubjectId>,
        limit: u32,
    ) -> Result<Vec<SubjectId>, StoreError> {
        let after = after.map(|pair| pair.to_string()).unwrap_or_default();
        let tx = self.kv.begin(&[PAIRS], Mode::Read).await?;
        let rows = tx.after(PAIRS, &after, limit).await?;
        let id = |row: &Row| row.key.parse().ok();
        Ok(rows.iter().filter_map(id).collect())
    }
}
