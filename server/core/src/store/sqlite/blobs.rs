//! The table of blobs in SQLite.

use std::collections::HashMap;

use sqlx::sqlite::SqliteRow;
use sqlx::{QueryBuilder, Row};

use super::bulk::listing;
use super::{SqliteTx, rows, to_i64, to_u64};
use crate::store::{BlobHash, BlobRow, BlobTx, DatabaseError};

impl BlobTx for SqliteTx {
    async fn blob(&mut self, hash: &BlobHash) -> Result<Option<BlobRow>, DatabaseError> {
        let row = sqlx::query("SELECT sha256, media_type, bytes FROM blobs WHERE sha256 = $1")
            .bind(hash.0.to_vec())
            .fetch_optional(&mut *self.tx)
            .await?;
        row.as_ref().map(blob).transpose()
    }

    async fn blobs(&mut self, hashes: &[BlobHash]) -> Result<HashMap<BlobHash, u64>, DatabaseError> {
        let mut found = HashMap::with_capacity(hashes.len());
        for some in hashes.chunks(1_000) {
            let mut query = listing(
                "SELECT sha256, bytes FROM blobs WHERE sha256 IN",
                some.iter().map(|h| h.0.to_vec()),
            );
            for row in query.build().persistent(false).fetch_all(&mut *self.tx).await? {
                found.insert(rows::hash(row.try_get(0)?)?, to_u64(row.try_get(1)?)?);
            }
        }
        Ok(found)
    }

    async fn all_blobs(&mut self) -> Result<Vec<BlobRow>, DatabaseError> {
        let found = sqlx::query("SELECT sha256, media_type, bytes FROM blobs ORDER BY sha256")
            .fetch_all(&mut *self.tx)
            .await?;
        found.iter().map(blob).collect()
    }

    async fn add_blob(&mut self, row: &BlobRow) -> Result<(), DatabaseError> {
        sqlx::query(
            "INSERT INTO blobs (sha256, media_type, bytes) VALUES ($1, $2, $3) ON CONFLICT DO NOTHING",
        )
        .bind(row.hash.0.to_vec())
        .bind(row.media_type.clone())
        .bind(to_i64(row.bytes))
        .execute(&mut *self.tx)
        .await?;
        self.await_no_longer(&row.hash).await
    }

    async fn remove_blob(&mut self, hash: &BlobHash) -> Result<(), DatabaseError> {
        sqlx::query("DELETE FROM blobs WHERE sha256 = $1")
            .bind(hash.0.to_vec())
            .execute(&mut *self.tx)
            .await?;
        self.await_no_longer(hash).await
    }

    async fn miss_blob(&mut self, hash: &BlobHash) -> Result<(), DatabaseError> {
        self.remove_blob(hash).await?;
        sqlx::query(
            "INSERT OR IGNORE INTO awaited (sha256) SELECT sha256 FROM named WHERE sha256 = $1 LIMIT 1",
        )
        .bind(hash.0.to_vec())
        .execute(&mut *self.tx)
        .await?;
        Ok(())
    }

    async fn blob_count(&mut self) -> Result<u64, DatabaseError> {
        self.count("SELECT count(*) FROM blobs").await
    }

    async fn blob_bytes(&mut self) -> Result<u64, DatabaseError> {
        self.count("SELECT coalesce(sum(bytes), 0) FROM blobs").await
    }
}

impl SqliteTx {
    /// Marks those blobs as awaited that these new entries name and whose bytes are not stored.
    pub(super) async fn await_blobs(&mut self, named: &[(Vec<u8>, u64)]) -> Result<(), DatabaseError> {
        for some in named.chunks(1_000) {
            let mut query =
                QueryBuilder::new("INSERT OR IGNORE INTO awaited (sha256) SELECT v.column1 FROM (");
            query.push_values(some, |mut row, (sha256, _)| {
                row.push_bind(sha256.clone());
            });
            query.push(") v WHERE NOT EXISTS (SELECT 1 FROM blobs b WHERE b.sha256 = v.column1)");
            query.build().persistent(false).execute(&mut *self.tx).await?;
        }
        Ok(())
    }

    async fn await_no_longer(&mut self, hash: &BlobHash) -> Result<(), DatabaseError> {
        sqlx::query("DELETE FROM awaited WHERE sha256 = $1")
            .bind(hash.0.to_vec())
            .execute(&mut *self.tx)
            .await?;
        Ok(())
    }
}

fn blob(row: &SqliteRow) -> Result<BlobRow, DatabaseError> {
    Ok(BlobRow {
        hash: rows::hash(row.try_get(0)?)?,
        media_type: row.try_get(1)?,
        bytes: to_u64(row.try_get(2)?)?,
    })
}
