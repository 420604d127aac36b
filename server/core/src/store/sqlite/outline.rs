//! Reading entries without more of them in memory than is needed, from SQLite.

use shared::log::{EntryId, SubjectId};
use sqlx::AssertSqlSafe;
use sqlx::sqlite::SqliteRow;
use uuid::Uuid;

use super::bulk::listing;
use super::log::IDS;
use super::page::{Filling, KeptRow, limit};
use super::rows::{self, COLUMNS};
use super::{SqliteTx, to_i64};
use crate::store::{Budget, DatabaseError, OutlineTx, Page, StoredEntry, outline_bytes};

impl OutlineTx for SqliteTx {
    async fn outline(
        &mut self,
        subjects: &[SubjectId],
        kinds: &[&str],
        budget: Budget,
    ) -> Result<Page<StoredEntry>, DatabaseError> {
        let ids: Vec<Uuid> = subjects.iter().map(|subject| subject.0).collect();
        let mut page = self.within(&selecting(kinds), &ids, budget).await?;
        page.rows.sort_unstable_by_key(|stored| stored.seq);
        page.rows.dedup_by_key(|stored| stored.seq);
        Ok(page)
    }

    async fn stored_within(
        &mut self,
        ids: &[EntryId],
        budget: Budget,
    ) -> Result<Page<StoredEntry>, DatabaseError> {
        let ids: Vec<Uuid> = ids.iter().map(|id| id.0).collect();
        let select = format!("SELECT {COLUMNS} FROM entries e WHERE e.id IN");
        self.within(&select, &ids, budget).await
    }

    async fn on_subject(
        &mut self,
        first_seq: u64,
        after: u64,
        upto: u64,
        budget: Budget,
    ) -> Result<Page<StoredEntry>, DatabaseError> {
        let sql = format!(
            "SELECT {COLUMNS} FROM entries e INDEXED BY entries_history \
             WHERE e.subject_seq = $1 AND e.seq > $2 AND e.seq <= $3 ORDER BY e.seq LIMIT $4"
        );
        let query = sqlx::query(AssertSqlSafe(sql))
            .bind(to_i64(first_seq))
            .bind(to_i64(after))
            .bind(to_i64(upto))
            .bind(limit(budget));
        let mut page = Filling::new(budget);
        page.fill(query.fetch(&mut *self.tx), entry).await?;
        Ok(page.done())
    }
}

impl SqliteTx {
    /// The entries that a query selects, as far as the budget allows. `select` ends in `IN`.
    async fn within(
        &mut self,
        select: &str,
        ids: &[Uuid],
        budget: Budget,
    ) -> Result<Page<StoredEntry>, DatabaseError> {
        let mut page = Filling::new(budget);
        for some in ids.chunks(IDS) {
            let mut query = listing(select, some.iter().copied());
            let rows = query.build().persistent(false).fetch(&mut *self.tx);
            page.fill(rows, entry).await?;
        }
        Ok(page.done())
    }
}

/// The entry in a row of [`COLUMNS`] and the memory that it counts for, for [`Filling::fill`].
fn entry(row: &SqliteRow) -> KeptRow<StoredEntry> {
    let stored = rows::stored(row, 0)?;
    let bytes = outline_bytes(&stored);
    Ok(Some((stored, bytes)))
}

/// The query of [`OutlineTx::outline`], up to `IN`.
fn selecting(kinds: &[&str]) -> String {
    let kinds: Vec<_> = kinds.iter().map(|kind| format!("'{kind}'")).collect();
    let kinds = kinds.join(", ");
    let columns = COLUMNS.replace("e.body", &format!("iif(e.kind IN ({kinds}), e.body, '')"));
    format!(
        "SELECT {columns} FROM about a JOIN entries e ON e.seq = a.entry \
         WHERE (e.kind IN ({kinds}) OR e.over IS NOT NULL) AND a.subject_id IN"
    )
}
