//! Mending what is stored in SQLite.

use serde_json::{Map, Value, json};
use shared::log::SubjectId;
use sqlx::sqlite::SqliteRow;
use sqlx::{AssertSqlSafe, Row};
use uuid::Uuid;

use super::rows::{COLUMNS, PUSHED};
use super::{SqliteTx, digest, to_i64};
use crate::store::{DamagedRows, DatabaseError, NewEntry, RepairTx, StoredEntry};

/// The tables that are made from the entries, except that of card links: one of an erased pair stays taken.
const DERIVED: [&str; 4] = ["subjects", "about", "named", "awaited"];

impl RepairTx for SqliteTx {
    async fn rebuild_indexes(&mut self) -> Result<(), DatabaseError> {
        sqlx::query("REINDEX").execute(&mut *self.tx).await?;
        Ok(())
    }

    async fn mend_rows(&mut self) -> Result<DamagedRows, DatabaseError> {
        self.mend_damaged().await
    }

    async fn take_out(&mut self, seqs: &[u64]) -> Result<Vec<String>, DatabaseError> {
        let columns = [COLUMNS, PUSHED].join(", ").replace("e.", "");
        let mut lines = Vec::new();
        for seq in seqs {
            lines.push(self.take_out_row("entries", &columns, to_i64(*seq)).await?);
        }
        Ok(lines)
    }

    async fn set_subject_seq(&mut self, seq: u64, subject_seq: u64) -> Result<(), DatabaseError> {
        let moved = |stored: &mut StoredEntry| stored.subject_seq = subject_seq;
        let digest = digest::changed(&mut self.tx, seq, moved).await?;
        sqlx::query("UPDATE entries SET subject_seq = $2, sha256 = coalesce($3, sha256) WHERE seq = $1")
            .bind(to_i64(seq))
            .bind(to_i64(subject_seq))
            .bind(digest)
            .execute(&mut *self.tx)
            .await?;
        Ok(())
    }

    async fn forget_derived(&mut self) -> Result<(), DatabaseError> {
        for table in DERIVED {
            self.empty(table).await?;
        }
        Ok(())
    }

    async fn derive(&mut self, entries: &[NewEntry]) -> Result<(), DatabaseError> {
        self.insert_subjects(entries).await?;
        self.insert_links(entries).await
    }

    async fn relink(&mut self, secret: &str, pair: SubjectId) -> Result<(), DatabaseError> {
        sqlx::query(
            "INSERT INTO card_links (secret, pair) VALUES ($1, $2) \
             ON CONFLICT (secret) DO UPDATE SET pair = excluded.pair",
        )
        .bind(secret.to_owned())
        .bind(pair.0)
        .execute(&mut *self.tx)
        .await?;
        Ok(())
    }

    async fn forget_numbers(&mut self) -> Result<(), DatabaseError> {
        self.empty("feed").await
    }
}

impl SqliteTx {
    async fn empty(&mut self, table: &str) -> Result<(), DatabaseError> {
        sqlx::query(AssertSqlSafe(format!("DELETE FROM {table}")))
            .execute(&mut *self.tx)
            .await?;
        Ok(())
    }

    /// Deletes the row with this number from a table. Returns all that was stored of it as one line of JSON: its id, if that
    /// can be read, and its columns as SQL writes their values.
    pub(super) async fn take_out_row(
        &mut self,
        table: &str,
        columns: &str,
        seq: i64,
    ) -> Result<String, DatabaseError> {
        let columns: Vec<&str> = columns.split(", ").collect();
        // As bytes, because a damaged text need not be UTF-8.
        let quoted: String = columns
            .iter()
            .map(|column| format!(", CAST(quote({column}) AS BLOB)"))
            .collect();
        let sql = format!("SELECT CAST(id AS BLOB){quoted} FROM {table} WHERE seq = $1");
        let row = sqlx::query(AssertSqlSafe(sql))
            .bind(seq)
            .fetch_one(&mut *self.tx)
            .await?;
        let line = line(&row, &columns)?;
        sqlx::query(AssertSqlSafe(format!("DELETE FROM {table} WHERE seq = $1")))
            .bind(seq)
            .execute(&mut *self.tx)
            .await?;
        Ok(line)
    }
}

/// A damaged row as one line of JSON, from its id and then its columns.
fn line(row: &SqliteRow, columns: &[&str]) -> Result<String, DatabaseError> {
    let id = row
        .try_get::<Option<&[u8]>, _>(0)?
        .and_then(|id| Uuid::from_slice(id).ok());
    let mut stored = Map::new();
    for (at, column) in columns.iter().enumerate() {
        let quoted: &[u8] = row.try_get(at + 1)?;
        let text = String::from_utf8_lossy(quoted).into_owned();
        stored.insert((*column).to_owned(), Value::String(text));
    }
    Ok(json!({ "id": id, "columns": stored }).to_string())
}
