//! The counter: the one row with the shop's id and what its numbering stands at.

use shared::log::UnixMs;
use sqlx::sqlite::SqliteRow;
use sqlx::{AssertSqlSafe, Row, SqlitePool};
use uuid::Uuid;

use super::row_digest::{COUNTER, ColumnValue};
use super::{SqliteTx, ms, to_i64, to_u64};
use crate::store::{DatabaseError, Numbering};

/// Makes the counter of a new database. One that is lost is not made anew, so that the check reports it.
pub(super) async fn create(writer: &SqlitePool, shop: Uuid, epoch: Uuid) -> Result<(), DatabaseError> {
    sqlx::query(
        "INSERT INTO counter (one, shop, epoch, seq, last_received, letters_given) SELECT 1, $1, $2, 0, 0, 0 \
         WHERE NOT EXISTS (SELECT 1 FROM counter) AND NOT EXISTS (SELECT 1 FROM entries) \
         AND NOT EXISTS (SELECT 1 FROM devices)",
    )
    .bind(shop)
    .bind(epoch)
    .execute(writer)
    .await?;
    Ok(())
}

impl SqliteTx {
    pub(super) async fn read_counter(&mut self) -> Result<Numbering, DatabaseError> {
        let row = self
            .counter_row()
            .await?
            .ok_or(DatabaseError::Damaged("the counter is missing"))?;
        Ok(Numbering {
            shop: row.try_get(1)?,
            epoch: row.try_get(2)?,
            seq: to_u64(row.try_get(3)?)?,
            last_received: ms(row.try_get(4)?),
            letters_given: to_u64(row.try_get(5)?)?,
        })
    }

    /// Replaces the counter. A damaged one stays damaged, since what is written was made from what it said.
    pub(super) async fn write_counter(&mut self, counter: &Numbering) -> Result<(), DatabaseError> {
        let former = self.counter_row().await?;
        let was_intact = former.is_some_and(|row| COUNTER.is_intact(&row));
        let digest = was_intact.then(|| COUNTER.digest(&values(counter)).to_vec());
        sqlx::query(
            "UPDATE counter SET shop = $1, epoch = $2, seq = $3, last_received = $4, letters_given = $5, \
             digest = coalesce($6, digest)",
        )
        .bind(counter.shop)
        .bind(counter.epoch)
        .bind(to_i64(counter.seq))
        .bind(counter.last_received.0)
        .bind(to_i64(counter.letters_given))
        .bind(digest)
        .execute(&mut *self.tx)
        .await?;
        Ok(())
    }

    async fn counter_row(&mut self) -> Result<Option<SqliteRow>, DatabaseError> {
        let query = sqlx::query(AssertSqlSafe(COUNTER.select()));
        Ok(query.fetch_optional(&mut *self.tx).await?)
    }

    /// Makes the counter anew if it is damaged or missing. Its epoch and its last number come with the new numbering that is
    /// needed then. Returns whether it was.
    ///
    /// # Errors
    /// [`DatabaseError::Damaged`] if it is not certain which shop this is.
    pub(super) async fn mend_counter(&mut self) -> Result<bool, DatabaseError> {
        if COUNTER.damaged(&mut self.tx).await? == 0 {
            return Ok(false);
        }
        let former = self.counter_row().await?;
        let noted = former.as_ref();
        let last_received: Option<i64> = noted.and_then(|row| row.try_get(4).ok());
        let latest: i64 = sqlx::query_scalar("SELECT coalesce(max(received), 0) FROM entries")
            .fetch_one(&mut *self.tx)
            .await?;
        let counter = Numbering {
            shop: self
                .likely_shop(noted.and_then(|row| row.try_get(1).ok()))
                .await?,
            epoch: Uuid::nil(),
            seq: 0,
            last_received: UnixMs(last_received.unwrap_or(latest).min(latest)),
            // Each device has got letters of its own, and its row stays for ever.
            letters_given: self.count("SELECT count(*) FROM devices").await?,
        };
        sqlx::query("DELETE FROM counter").execute(&mut *self.tx).await?;
        self.put_row(&COUNTER, &values(&counter)).await?;
        Ok(true)
    }

    /// The shop's id: the one that a damaged counter has, unless the entries tell of other shops only.
    async fn likely_shop(&mut self, noted: Option<Uuid>) -> Result<Uuid, DatabaseError> {
        let found = sqlx::query("SELECT DISTINCT subject_id FROM entries WHERE subject_kind = 'shop'")
            .fetch_all(&mut *self.tx)
            .await?;
        let told: Vec<Uuid> = found.iter().filter_map(|row| row.try_get(0).ok()).collect();
        match (noted, told.as_slice()) {
            (Some(noted), told) if told.is_empty() || told.contains(&noted) => Ok(noted),
            (_, [only]) => Ok(*only),
            _ => Err(DatabaseError::Damaged("the id of the shop")),
        }
    }
}

fn values(counter: &Numbering) -> [ColumnValue<'_>; 6] {
    [
        ColumnValue::Integer(1),
        (&counter.shop).into(),
        (&counter.epoch).into(),
        to_i64(counter.seq).into(),
        counter.last_received.into(),
        to_i64(counter.letters_given).into(),
    ]
}
