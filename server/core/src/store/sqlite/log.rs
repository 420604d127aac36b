//! Entries and their numbering in SQLite.

use std::collections::HashMap;

use shared::log::{EntryId, ReceivedEntry, SubjectId, UnixMs};
use shared::sync::HistoryMark;
use sqlx::sqlite::SqliteRow;
use sqlx::{AssertSqlSafe, QueryBuilder, Row};
use uuid::Uuid;

use super::bulk::{ROWS, listing};
use super::page::{Filling, KeptRow, limit};
use super::rows::{self, COLUMNS};
use super::{SqliteTx, digest, ms, to_i64, to_u64};
use crate::store::{
    Arrival, Blank, BlobHash, Budget, DatabaseError, LogTx, NewEntry, Numbered, Numbering, Page, PushedBy,
    StoredEntry,
};

/// Ids in one query.
pub(super) const IDS: usize = 1_000;

impl LogTx for SqliteTx {
    async fn counter(&mut self) -> Result<Numbering, DatabaseError> {
        self.read_counter().await
    }

    async fn set_counter(&mut self, counter: &Numbering) -> Result<(), DatabaseError> {
        self.write_counter(counter).await
    }

    async fn stored(&mut self, ids: &[EntryId]) -> Result<Vec<StoredEntry>, DatabaseError> {
        let ids: Vec<Uuid> = ids.iter().map(|id| id.0).collect();
        self.entries_where("FROM entries e WHERE e.id IN", &ids).await
    }

    async fn arrivals(&mut self, ids: &[EntryId]) -> Result<HashMap<EntryId, Arrival>, DatabaseError> {
        let mut found = HashMap::with_capacity(ids.len());
        for some in ids.chunks(IDS) {
            let mut query = listing(
                "SELECT id, received, body = '', subject_kind, subject_id, kind FROM entries WHERE id IN",
                some.iter().map(|id| id.0),
            );
            for row in query.build().persistent(false).fetch_all(&mut *self.tx).await? {
                let is_blank: bool = row.try_get(2)?;
                let blank = Blank {
                    subject: rows::subject(row.try_get(3)?, row.try_get(4)?),
                    kind: row.try_get(5)?,
                };
                let arrival = Arrival {
                    received: ms(row.try_get(1)?),
                    blank: is_blank.then_some(blank),
                };
                found.insert(EntryId(row.try_get(0)?), arrival);
            }
        }
        Ok(found)
    }

    async fn first_seqs(&mut self, subjects: &[SubjectId]) -> Result<HashMap<SubjectId, u64>, DatabaseError> {
        let mut found = HashMap::with_capacity(subjects.len());
        for some in subjects.chunks(IDS) {
            let ids = some.iter().map(|s| s.0);
            let mut query = listing("SELECT id, first_seq FROM subjects WHERE id IN", ids);
            for row in query.build().persistent(false).fetch_all(&mut *self.tx).await? {
                found.insert(SubjectId(row.try_get(0)?), to_u64(row.try_get(1)?)?);
            }
        }
        Ok(found)
    }

    async fn insert(&mut self, entries: &[NewEntry], pushed_by: PushedBy) -> Result<(), DatabaseError> {
        let columns = COLUMNS.replace("e.", "");
        let insert = format!("INSERT INTO entries ({columns}, pushed_by, arrived, sha256) ");
        for some in entries.chunks(ROWS) {
            let mut query = QueryBuilder::new(insert.clone());
            query.push_values(some, |row, new| {
                rows::push(
                    row,
                    &new.stored,
                    pushed_by,
                    digest::of_new(&new.stored, pushed_by),
                );
            });
            query.build().persistent(false).execute(&mut *self.tx).await?;
        }
        self.insert_subjects(entries).await?;
        self.insert_links(entries).await
    }

    async fn lower(&mut self, seq: u64, received: UnixMs) -> Result<(), DatabaseError> {
        let lowered = |stored: &mut StoredEntry| stored.held.received = Some(received);
        let digest = digest::changed(&mut self.tx, seq, lowered).await?;
        sqlx::query("UPDATE entries SET received = $2, sha256 = coalesce($3, sha256) WHERE seq = $1")
            .bind(to_i64(seq))
            .bind(received.0)
            .bind(digest)
            .execute(&mut *self.tx)
            .await?;
        Ok(())
    }

    async fn blank(&mut self, stored: &StoredEntry) -> Result<(), DatabaseError> {
        let seq = to_i64(stored.seq);
        self.set_body(stored.seq, "").await?;
        sqlx::query("DELETE FROM named WHERE entry = $1")
            .bind(seq)
            .execute(&mut *self.tx)
            .await?;
        sqlx::query("DELETE FROM about WHERE entry = $1 AND subject_id <> $2")
            .bind(seq)
            .bind(stored.subject().id.0)
            .execute(&mut *self.tx)
            .await?;
        Ok(())
    }

    async fn fill(&mut self, entry: &NewEntry) -> Result<(), DatabaseError> {
        self.set_body(entry.stored.seq, &entry.stored.held.entry.body)
            .await?;
        self.insert_links(std::slice::from_ref(entry)).await
    }

    async fn number(&mut self, rows: &[Numbered]) -> Result<(), DatabaseError> {
        self.insert_numbers(rows).await
    }

    async fn mark_at(&mut self, seq: u64) -> Result<Option<Uuid>, DatabaseError> {
        let row = sqlx::query("SELECT mark FROM feed WHERE seq = $1")
            .bind(to_i64(seq))
            .fetch_optional(&mut *self.tx)
            .await?;
        Ok(row.map(|row| row.try_get(0)).transpose()?)
    }

    async fn feed_after(
        &mut self,
        seq: u64,
        budget: Budget,
    ) -> Result<Page<(Numbered, ReceivedEntry)>, DatabaseError> {
        let sql = format!(
            "SELECT f.seq, f.mark, f.entry, {COLUMNS} FROM feed f JOIN entries e ON e.seq = f.entry \
             WHERE f.seq > $1 ORDER BY f.seq LIMIT $2"
        );
        let query = sqlx::query(AssertSqlSafe(sql))
            .bind(to_i64(seq))
            .bind(limit(budget));
        let mut page = Filling::new(budget);
        page.fill(query.fetch(&mut *self.tx), row_of_feed).await?;
        Ok(page.done())
    }

    async fn history(
        &mut self,
        start: u64,
        from: Option<HistoryMark>,
        budget: Budget,
    ) -> Result<Page<StoredEntry>, DatabaseError> {
        // Two queries that each follow one index. For a single condition with OR, SQLite would sort the whole history.
        let mut page = Filling::new(budget);
        let mut below = to_i64(u64::MAX);
        if let Some(mark) = from {
            below = to_i64(mark.subject_seq);
            let rest = "e.subject_seq = $1 AND e.seq > $4 AND e.seq <= $2 ORDER BY e.seq LIMIT $3";
            self.walk(
                rest,
                [below, to_i64(start), limit(budget), to_i64(mark.seq)],
                &mut page,
            )
            .await?;
        }
        if !page.more {
            let older = "e.subject_seq < $1 AND e.subject_seq > $4 AND e.seq <= $2 \
                         ORDER BY e.subject_seq DESC, e.seq LIMIT $3";
            self.walk(older, [below, to_i64(start), limit(budget), 0], &mut page)
                .await?;
        }
        Ok(page.done())
    }

    async fn on(&mut self, subjects: &[SubjectId]) -> Result<Vec<StoredEntry>, DatabaseError> {
        let ids: Vec<Uuid> = subjects.iter().map(|s| s.0).collect();
        let from = "FROM subjects s JOIN entries e ON e.subject_seq = s.first_seq WHERE s.id IN";
        self.entries_where(from, &ids).await
    }

    async fn about(&mut self, subjects: &[SubjectId]) -> Result<Vec<StoredEntry>, DatabaseError> {
        let ids: Vec<Uuid> = subjects.iter().map(|s| s.0).collect();
        let from = "FROM about a JOIN entries e ON e.seq = a.entry WHERE a.subject_id IN";
        self.entries_where(from, &ids).await
    }

    async fn naming(&mut self, blob: &BlobHash) -> Result<Vec<StoredEntry>, DatabaseError> {
        let sql = format!(
            "SELECT {COLUMNS} FROM named n JOIN entries e ON e.seq = n.entry WHERE n.sha256 = $1 ORDER BY e.seq"
        );
        let found = sqlx::query(AssertSqlSafe(sql))
            .bind(blob.0.to_vec())
            .fetch_all(&mut *self.tx)
            .await?;
        found.iter().map(|row| rows::stored(row, 0)).collect()
    }

    async fn awaited(&mut self, most: usize) -> Result<Vec<BlobHash>, DatabaseError> {
        let found = sqlx::query("SELECT sha256 FROM awaited LIMIT $1")
            .bind(to_i64(most as u64))
            .fetch_all(&mut *self.tx)
            .await?;
        found.iter().map(|row| rows::hash(row.try_get(0)?)).collect()
    }

    async fn all_named(&mut self) -> Result<Vec<BlobHash>, DatabaseError> {
        let found = sqlx::query("SELECT DISTINCT sha256 FROM named")
            .fetch_all(&mut *self.tx)
            .await?;
        found.iter().map(|row| rows::hash(row.try_get(0)?)).collect()
    }

    async fn jobs_perhaps_here(&mut self) -> Result<Vec<SubjectId>, DatabaseError> {
        let found = sqlx::query(
            "SELECT DISTINCT o.subject_id FROM entries o WHERE o.kind = 'opened' AND o.subject_kind = 'job' AND \
             (NOT EXISTS (SELECT 1 FROM entries h WHERE h.kind = 'handed_over' AND h.subject_id = o.subject_id) \
              OR EXISTS (SELECT 1 FROM entries r WHERE r.kind = 'retracted' AND r.subject_id = o.subject_id))",
        )
        .fetch_all(&mut *self.tx)
        .await?;
        subjects(&found)
    }

    async fn shop_subjects(&mut self) -> Result<Vec<SubjectId>, DatabaseError> {
        let found = sqlx::query("SELECT id FROM subjects WHERE kind = 'shop'")
            .fetch_all(&mut *self.tx)
            .await?;
        subjects(&found)
    }

    async fn erasures(&mut self) -> Result<Vec<ReceivedEntry>, DatabaseError> {
        let mut all = self.held_where("e.kind = 'erased'").await?;
        all.extend(self.held_where("e.kind = 'mention_erased'").await?);
        Ok(all)
    }

    async fn blank_entries(&mut self) -> Result<Vec<ReceivedEntry>, DatabaseError> {
        self.held_where("e.body = ''").await
    }

    async fn linked_pairs(
        &mut self,
        secrets: &[String],
    ) -> Result<HashMap<String, SubjectId>, DatabaseError> {
        let mut found = HashMap::new();
        for some in secrets.chunks(IDS) {
            let mut query = listing(
                "SELECT secret, pair FROM card_links WHERE secret IN",
                some.iter().cloned(),
            );
            for row in query.build().persistent(false).fetch_all(&mut *self.tx).await? {
                found.insert(row.try_get(0)?, SubjectId(row.try_get(1)?));
            }
        }
        Ok(found)
    }

    async fn link(&mut self, secret: &str, pair: SubjectId) -> Result<(), DatabaseError> {
        sqlx::query("INSERT INTO card_links (secret, pair) VALUES ($1, $2) ON CONFLICT DO NOTHING")
            .bind(secret.to_owned())
            .bind(pair.0)
            .execute(&mut *self.tx)
            .await?;
        Ok(())
    }

    async fn entry_count(&mut self) -> Result<u64, DatabaseError> {
        self.count("SELECT count(*) FROM entries").await
    }

    async fn feed_count(&mut self) -> Result<u64, DatabaseError> {
        self.count("SELECT count(*) FROM feed").await
    }
}

impl SqliteTx {
    /// Stores which subjects these entries concern and which blobs they name.
    pub(super) async fn insert_links(&mut self, entries: &[NewEntry]) -> Result<(), DatabaseError> {
        let about = entries
            .iter()
            .flat_map(|e| e.about.iter().map(|s| (s.0.as_bytes().to_vec(), e.stored.seq)));
        self.insert_pairs(
            "INSERT OR IGNORE INTO about (subject_id, entry) ",
            about.collect(),
        )
        .await?;
        let named = entries
            .iter()
            .flat_map(|e| e.named.iter().map(|h| (h.0.to_vec(), e.stored.seq)));
        let named: Vec<_> = named.collect();
        self.await_blobs(&named).await?;
        self.insert_pairs("INSERT OR IGNORE INTO named (sha256, entry) ", named)
            .await
    }

    /// Replaces the body of an entry.
    async fn set_body(&mut self, seq: u64, body: &str) -> Result<(), DatabaseError> {
        let replaced = |stored: &mut StoredEntry| body.clone_into(&mut stored.held.entry.body);
        let digest = digest::changed(&mut self.tx, seq, replaced).await?;
        sqlx::query("UPDATE entries SET body = $2, sha256 = coalesce($3, sha256) WHERE seq = $1")
            .bind(to_i64(seq))
            .bind(body.to_owned())
            .bind(digest)
            .execute(&mut *self.tx)
            .await?;
        Ok(())
    }

    /// The result of a query that counts rows.
    pub(super) async fn count(&mut self, sql: &'static str) -> Result<u64, DatabaseError> {
        to_u64(sqlx::query_scalar(sql).fetch_one(&mut *self.tx).await?)
    }

    /// The entries that meet a condition, by the number they got when they were stored.
    async fn held_where(&mut self, condition: &str) -> Result<Vec<ReceivedEntry>, DatabaseError> {
        let sql = format!("SELECT {COLUMNS} FROM entries e WHERE {condition} ORDER BY e.seq");
        let found = sqlx::query(AssertSqlSafe(sql)).fetch_all(&mut *self.tx).await?;
        found.iter().map(|row| Ok(rows::stored(row, 0)?.held)).collect()
    }

    /// The entries of a join, each once, by the number they got when they were stored. `from` is the query after its
    /// columns and ends in `IN`.
    pub(super) async fn entries_where(
        &mut self,
        from: &str,
        ids: &[Uuid],
    ) -> Result<Vec<StoredEntry>, DatabaseError> {
        let mut found: Vec<StoredEntry> = Vec::new();
        for some in ids.chunks(IDS) {
            let mut query = listing(&format!("SELECT {COLUMNS} {from}"), some.iter().copied());
            for row in query.build().persistent(false).fetch_all(&mut *self.tx).await? {
                found.push(rows::stored(&row, 0)?);
            }
        }
        found.sort_unstable_by_key(|stored| stored.seq);
        found.dedup_by_key(|stored| stored.seq);
        Ok(found)
    }

    async fn walk(
        &mut self,
        condition: &str,
        values: [i64; 4],
        page: &mut Filling<StoredEntry>,
    ) -> Result<(), DatabaseError> {
        let sql = format!("SELECT {COLUMNS} FROM entries e INDEXED BY entries_history WHERE {condition}");
        let query = values
            .into_iter()
            .fold(sqlx::query(AssertSqlSafe(sql)), |query, value| query.bind(value));
        page.fill(query.fetch(&mut *self.tx), entry).await
    }
}

/// The number and the entry in a row of [`LogTx::feed_after`]'s query, and the length of the entry's body, for
/// [`Filling::fill`].
fn row_of_feed(row: &SqliteRow) -> KeptRow<(Numbered, ReceivedEntry)> {
    let numbered = Numbered {
        seq: to_u64(row.try_get(0)?)?,
        mark: row.try_get(1)?,
        entry: to_u64(row.try_get(2)?)?,
    };
    let held = rows::stored(row, 3)?.held;
    let bytes = held.entry.body.len();
    Ok(Some(((numbered, held), bytes)))
}

/// The entry in a row of [`COLUMNS`] and the length of its body, for [`Filling::fill`].
fn entry(row: &SqliteRow) -> KeptRow<StoredEntry> {
    let stored = rows::stored(row, 0)?;
    let bytes = stored.held.entry.body.len();
    Ok(Some((stored, bytes)))
}

fn subjects(rows: &[SqliteRow]) -> Result<Vec<SubjectId>, DatabaseError> {
    rows.iter().map(|row| Ok(SubjectId(row.try_get(0)?))).collect()
}
