//! Mending damaged rows of which no entry tells what they must be.

use shared::log::DeviceId;
use sqlx::sqlite::SqliteRow;
use sqlx::{AssertSqlSafe, Row};
use uuid::Uuid;

use super::SqliteTx;
use super::row_digest::{ColumnValue, DEVICES, DigestedTable, FEED, JOIN_CODES, KEPT_ASIDE, TOKENS};
use crate::store::{DamagedDevice, DamagedRows, DatabaseError};

impl SqliteTx {
    pub(super) async fn mend_damaged(&mut self) -> Result<DamagedRows, DatabaseError> {
        let counter = self.mend_counter().await?;
        let damaged = DamagedRows {
            numbers: FEED.damaged(&mut self.tx).await? > 0 || counter,
            tokens: self.delete_damaged(&TOKENS).await?,
            join_codes: self.delete_damaged(&JOIN_CODES).await?,
            devices: self.close_damaged_devices().await?,
            aside: self.take_out_damaged_aside().await?,
        };
        sqlx::query("DELETE FROM tokens WHERE device NOT IN (SELECT id FROM devices)")
            .execute(&mut *self.tx)
            .await?;
        Ok(damaged)
    }

    /// Deletes the damaged rows of a table. Returns how many they were.
    async fn delete_damaged(&mut self, table: &DigestedTable) -> Result<usize, DatabaseError> {
        let damaged = self.damaged_rows(table).await?;
        let delete = format!("DELETE FROM {} WHERE {} = $1", table.name, table.key());
        for row in &damaged {
            sqlx::query(AssertSqlSafe(delete.clone()))
                .bind(ColumnValue::read(row, 0))
                .execute(&mut *self.tx)
                .await?;
        }
        Ok(damaged.len())
    }

    /// Deletes the tokens of damaged devices, and those devices whose ids cannot be read.
    ///
    /// Of a device that was shut out, the revoked tokens stay: with them it gets the proof that it was. Of others they go,
    /// because nobody has shut these out.
    async fn close_damaged_devices(&mut self) -> Result<Vec<DamagedDevice>, DatabaseError> {
        let mut closed = Vec::new();
        for row in self.damaged_rows(&DEVICES).await? {
            let key = ColumnValue::read(&row, 0);
            let id = row.try_get::<Uuid, _>("id").ok().map(DeviceId);
            let was_shut_out = matches!(row.try_get::<Option<i64>, _>("revoked"), Ok(Some(_)));
            let tokens = match id {
                Some(_) if was_shut_out => "DELETE FROM tokens WHERE device = $1 AND revoked IS NULL",
                _ => "DELETE FROM tokens WHERE device = $1",
            };
            // Letters that are none, since the damaged ones may be those that another device gets.
            let device = match id {
                Some(_) => "UPDATE devices SET letters = hex(id) WHERE id = $1",
                None => "DELETE FROM devices WHERE id = $1",
            };
            for statement in [tokens, device] {
                sqlx::query(statement).bind(key).execute(&mut *self.tx).await?;
            }
            let name = name(&row);
            closed.extend(id.map(|id| DamagedDevice { id, name }));
        }
        Ok(closed)
    }

    async fn take_out_damaged_aside(&mut self) -> Result<Vec<String>, DatabaseError> {
        let mut lines = Vec::new();
        for row in self.damaged_rows(&KEPT_ASIDE).await? {
            let line = self
                .take_out_row(KEPT_ASIDE.name, KEPT_ASIDE.columns, row.try_get(0)?)
                .await?;
            let was_dropped = matches!(row.try_get::<Option<&[u8]>, _>("entry"), Ok(None));
            lines.extend((!was_dropped).then_some(line));
        }
        Ok(lines)
    }
}

/// The name of a damaged device, as far as it can be read.
fn name(row: &SqliteRow) -> String {
    let name = row.try_get::<&[u8], _>("name").unwrap_or_default();
    String::from_utf8_lossy(name).into_owned()
}
