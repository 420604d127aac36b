//! Inserting and selecting many rows with one statement.

use sqlx::{QueryBuilder, Sqlite};

use super::row_digest::{ColumnValue, FEED};
use super::{SqliteTx, to_i64};
use crate::store::{DatabaseError, NewEntry, Numbered, StoredEntry};

/// Rows in one insert. With at most 20 columns they stay well under SQLite's limit of 32,766 values.
pub(super) const ROWS: usize = 500;

impl SqliteTx {
    pub(super) async fn insert_subjects(&mut self, entries: &[NewEntry]) -> Result<(), DatabaseError> {
        let first: Vec<&StoredEntry> = entries
            .iter()
            .map(|e| &e.stored)
            .filter(|stored| stored.seq == stored.subject_seq)
            .collect();
        for some in first.chunks(ROWS) {
            let mut query = QueryBuilder::new("INSERT INTO subjects (id, kind, first_seq) ");
            query.push_values(some, |mut row, stored| {
                let subject = stored.subject();
                row.push_bind(subject.id.0)
                    .push_bind(subject.kind.as_str().to_owned())
                    .push_bind(to_i64(stored.seq));
            });
            query.build().persistent(false).execute(&mut *self.tx).await?;
        }
        Ok(())
    }

    pub(super) async fn insert_numbers(&mut self, rows: &[Numbered]) -> Result<(), DatabaseError> {
        for some in rows.chunks(ROWS) {
            let mut query = QueryBuilder::new("INSERT INTO feed (seq, mark, entry, digest) ");
            query.push_values(some, |row, numbered| {
                let values: [ColumnValue<'_>; 3] = [
                    to_i64(numbered.seq).into(),
                    (&numbered.mark).into(),
                    to_i64(numbered.entry).into(),
                ];
                FEED.push(row, &values);
            });
            query.build().persistent(false).execute(&mut *self.tx).await?;
        }
        Ok(())
    }

    pub(super) async fn insert_pairs(
        &mut self,
        insert: &'static str,
        pairs: Vec<(Vec<u8>, u64)>,
    ) -> Result<(), DatabaseError> {
        for some in pairs.chunks(ROWS) {
            let mut query = QueryBuilder::new(insert);
            query.push_values(some, |mut row, (key, entry)| {
                row.push_bind(key.clone()).push_bind(to_i64(*entry));
            });
            query.build().persistent(false).execute(&mut *self.tx).await?;
        }
        Ok(())
    }
}

/// A query that ends in `IN (…)` with a placeholder for each item.
pub(super) fn listing<T>(head: &str, items: impl Iterator<Item = T>) -> QueryBuilder<Sqlite>
where
    T: for<'q> sqlx::Encode<'q, Sqlite> + sqlx::Type<Sqlite> + 'static,
{
    let mut query = QueryBuilder::new(head);
    query.push(" (");
    let mut list = query.separated(", ");
    for item in items {
        list.push_bind(item);
    }
    query.push(")");
    query
}
