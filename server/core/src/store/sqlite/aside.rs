//! Entries that are kept aside, in SQLite.

use std::collections::HashMap;

use shared::log::{DeviceId, EntryId, SubjectId};
use shared::sync::messages::KeptAside;
use sqlx::sqlite::SqliteRow;
use sqlx::{AssertSqlSafe, Row};
use uuid::Uuid;

use super::bulk::listing;
use super::log::IDS;
use super::page::{Filling, KeptRow};
use super::row_digest::{ColumnValue, KEPT_ASIDE};
use super::{SqliteTx, ms, to_i64, to_u64};
use crate::store::{AsideRow, AsideSize, AsideTx, Budget, DatabaseError, Page};

impl AsideTx for SqliteTx {
    async fn aside(&mut self, ids: &[EntryId]) -> Result<HashMap<EntryId, AsideRow>, DatabaseError> {
        let mut found = HashMap::new();
        for some in ids.chunks(IDS) {
            let mut rows = self.aside_rows(some).await?;
            rows.retain(|row| KEPT_ASIDE.is_intact(row));
            for row in rows {
                let noted = match kept(&row)? {
                    Some(kept) => AsideRow::Kept(Box::new(kept)),
                    None => AsideRow::Dropped,
                };
                found.insert(EntryId(row.try_get("id")?), noted);
            }
        }
        Ok(found)
    }

    async fn aside_size(&mut self) -> Result<AsideSize, DatabaseError> {
        let sql = "SELECT count(*), coalesce(sum(bytes), 0) FROM kept_aside WHERE entry IS NOT NULL";
        let row = sqlx::query(sql).fetch_one(&mut *self.tx).await?;
        Ok(AsideSize {
            entries: to_u64(row.try_get(0)?)?,
            bytes: to_u64(row.try_get(1)?)?,
        })
    }

    async fn kept_aside(&mut self, budget: Budget) -> Result<Page<KeptAside>, DatabaseError> {
        // Without a limit: how many of the rows are damaged is not known.
        let sql = format!("{} WHERE entry IS NOT NULL ORDER BY seq", KEPT_ASIDE.select());
        let rows = sqlx::query(AssertSqlSafe(sql)).fetch(&mut *self.tx);
        let mut page = Filling::new(budget);
        page.fill(rows, intact).await?;
        Ok(page.done())
    }

    async fn kept_aside_about(&mut self, subject: SubjectId) -> Result<Vec<KeptAside>, DatabaseError> {
        // Also of damaged rows: an erasure deletes them too.
        let sql = format!("{} WHERE subject_id = $1 ORDER BY seq", KEPT_ASIDE.select());
        let found = sqlx::query(AssertSqlSafe(sql))
            .bind(subject.0)
            .fetch_all(&mut *self.tx)
            .await?;
        found.iter().filter_map(|row| kept(row).transpose()).collect()
    }

    async fn keep_aside(&mut self, kept: &[KeptAside]) -> Result<(), DatabaseError> {
        if kept.is_empty() {
            return Ok(());
        }
        // A damaged row of the same entry, which is left out everywhere else, would be in the way.
        let ids: Vec<_> = kept.iter().map(|one| one.entry.entry.id).collect();
        self.forget_aside(&ids).await?;
        let mut seq: i64 = sqlx::query_scalar("SELECT coalesce(max(seq), 0) FROM kept_aside")
            .fetch_one(&mut *self.tx)
            .await?;
        for one in kept {
            let text =
                serde_json::to_string(&one.entry).map_err(|error| DatabaseError::Other(Box::new(error)))?;
            seq += 1;
            self.put_row(&KEPT_ASIDE, &values(seq, one, &text)).await?;
        }
        Ok(())
    }

    async fn drop_aside(&mut self, ids: &[EntryId]) -> Result<(), DatabaseError> {
        let drops = "UPDATE kept_aside SET entry = NULL, bytes = 0, digest = coalesce($2, digest) \
                     WHERE seq = $1";
        for some in ids.chunks(IDS) {
            for row in self.aside_rows(some).await? {
                sqlx::query(drops)
                    .bind(row.try_get::<i64, _>(0)?)
                    .bind(digest_of_dropped(&row))
                    .execute(&mut *self.tx)
                    .await?;
            }
        }
        Ok(())
    }

    async fn forget_aside(&mut self, ids: &[EntryId]) -> Result<(), DatabaseError> {
        for some in ids.chunks(IDS) {
            let mut query = listing("DELETE FROM kept_aside WHERE id IN", some.iter().map(|id| id.0));
            query.build().persistent(false).execute(&mut *self.tx).await?;
        }
        Ok(())
    }
}

impl SqliteTx {
    /// The rows of these entries, also damaged ones.
    async fn aside_rows(&mut self, ids: &[EntryId]) -> Result<Vec<SqliteRow>, DatabaseError> {
        let head = format!("{} WHERE id IN", KEPT_ASIDE.select());
        let mut query = listing(&head, ids.iter().map(|id| id.0));
        Ok(query.build().persistent(false).fetch_all(&mut *self.tx).await?)
    }
}

/// The values of [`KEPT_ASIDE`]'s columns. `text` is the entry as JSON.
fn values<'a>(seq: i64, kept: &'a KeptAside, text: &'a str) -> [ColumnValue<'a>; 7] {
    let entry = &kept.entry.entry;
    [
        seq.into(),
        (&entry.id.0).into(),
        (&entry.subject.id.0).into(),
        (&kept.device.0).into(),
        kept.arrived.into(),
        to_i64(text.len() as u64).into(),
        text.into(),
    ]
}

/// The digest of a row once its entry is dropped; `None` if the row is damaged. Its digest then has to stay as it is, so that
/// the check still reports it.
fn digest_of_dropped(row: &SqliteRow) -> Option<Vec<u8>> {
    let mut values = KEPT_ASIDE.intact(row)?;
    if let [.., bytes, entry] = values.as_mut_slice() {
        *bytes = ColumnValue::Integer(0);
        *entry = ColumnValue::Null;
    }
    Some(KEPT_ASIDE.digest(&values).to_vec())
}

/// The entry in a row of [`KEPT_ASIDE`] and the bytes of its JSON, for [`Filling::fill`]; `None` if the row is damaged,
/// or its entry was dropped.
fn intact(row: &SqliteRow) -> KeptRow<KeptAside> {
    if !KEPT_ASIDE.is_intact(row) {
        return Ok(None);
    }
    let bytes = usize::try_from(row.try_get::<i64, _>("bytes")?).unwrap_or_default();
    Ok(kept(row)?.map(|kept| (kept, bytes)))
}

/// An entry from a row of [`KEPT_ASIDE`]; `None` if it was dropped.
fn kept(row: &SqliteRow) -> Result<Option<KeptAside>, DatabaseError> {
    let Some(text) = row.try_get::<Option<&str>, _>("entry")? else {
        return Ok(None);
    };
    let entry = serde_json::from_str(text)
        .map_err(|_| DatabaseError::Damaged("an entry that is kept aside and cannot be read"))?;
    Ok(Some(KeptAside {
        entry,
        device: DeviceId(row.try_get::<Uuid, _>("device")?),
        arrived: ms(row.try_get("arrived")?),
    }))
}
