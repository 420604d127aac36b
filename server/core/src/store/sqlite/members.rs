//! Devices, tokens and join codes in SQLite.

use shared::log::{DeviceId, UnixMs};
use sqlx::Row;
use sqlx::sqlite::SqliteRow;

use super::{SqliteTx, ms, to_i64, to_u64};
use crate::store::{DatabaseError, DeviceRow, JoinCodeRow, MemberTx, SecretDigest, TokenRow};

impl MemberTx for SqliteTx {
    async fn device(&mut self, id: DeviceId) -> Result<Option<DeviceRow>, DatabaseError> {
        let row = sqlx::query(
            "SELECT id, name, letters, joined, revoked, seen, seq, app FROM devices WHERE id = $1",
        )
        .bind(id.0)
        .fetch_optional(&mut *self.tx)
        .await?;
        row.as_ref().map(device).transpose()
    }

    async fn devices(&mut self) -> Result<Vec<DeviceRow>, DatabaseError> {
        let sql =
            "SELECT id, name, letters, joined, revoked, seen, seq, app FROM devices ORDER BY joined, letters";
        let found = sqlx::query(sql).fetch_all(&mut *self.tx).await?;
        found.iter().map(device).collect()
    }

    async fn put_device(&mut self, row: &DeviceRow) -> Result<(), DatabaseError> {
        sqlx::query(
            "INSERT INTO devices (id, name, letters, joined, revoked, seen, seq, app) \
             VALUES ($1, $2, $3, $4, $5, $6, $7, $8) \
             ON CONFLICT (id) DO UPDATE SET name = excluded.name, letters = excluded.letters, \
             joined = excluded.joined, revoked = excluded.revoked, seen = excluded.seen, seq = excluded.seq, \
             app = excluded.app",
        )
        .bind(row.id.0)
        .bind(row.name.clone())
        .bind(row.letters.clone())
        .bind(row.joined.0)
        .bind(row.revoked.map(|r| r.0))
        .bind(row.seen.0)
        .bind(to_i64(row.seq))
        .bind(row.app.clone())
        .execute(&mut *self.tx)
        .await?;
        Ok(())
    }

    async fn token(&mut self, hash: &SecretDigest) -> Result<Option<TokenRow>, DatabaseError> {
        let row = sqlx::query("SELECT device, revoked IS NOT NULL FROM tokens WHERE hash = $1")
            .bind(hash.0.to_vec())
            .fetch_optional(&mut *self.tx)
            .await?;
        row.map(|row| {
            Ok(TokenRow {
                device: DeviceId(row.try_get(0)?),
                revoked: row.try_get(1)?,
            })
        })
        .transpose()
    }

    async fn add_token(&mut self, hash: &SecretDigest, device: DeviceId) -> Result<(), DatabaseError> {
        sqlx::query("INSERT INTO tokens (hash, device) VALUES ($1, $2)")
            .bind(hash.0.to_vec())
            .bind(device.0)
            .execute(&mut *self.tx)
            .await?;
        Ok(())
    }

    async fn revoke_tokens(&mut self, device: DeviceId, now: UnixMs) -> Result<(), DatabaseError> {
        sqlx::query("UPDATE tokens SET revoked = $2 WHERE device = $1 AND revoked IS NULL")
            .bind(device.0)
            .bind(now.0)
            .execute(&mut *self.tx)
            .await?;
        Ok(())
    }

    async fn join_code(&mut self, hash: &SecretDigest) -> Result<Option<JoinCodeRow>, DatabaseError> {
        let row = sqlx::query("SELECT expires, used FROM join_codes WHERE hash = $1")
            .bind(hash.0.to_vec())
            .fetch_optional(&mut *self.tx)
            .await?;
        row.map(|row| {
            Ok(JoinCodeRow {
                expires: ms(row.try_get(0)?),
                used: row.try_get(1)?,
            })
        })
        .transpose()
    }

    async fn put_join_code(&mut self, hash: &SecretDigest, row: &JoinCodeRow) -> Result<(), DatabaseError> {
        sqlx::query(
            "INSERT INTO join_codes (hash, expires, used) VALUES ($1, $2, $3) \
             ON CONFLICT (hash) DO UPDATE SET expires = excluded.expires, used = excluded.used",
        )
        .bind(hash.0.to_vec())
        .bind(row.expires.0)
        .bind(row.used)
        .execute(&mut *self.tx)
        .await?;
        Ok(())
    }

    async fn forget_join_codes(&mut self, before: UnixMs) -> Result<(), DatabaseError> {
        sqlx::query("DELETE FROM join_codes WHERE expires < $1")
            .bind(before.0)
            .execute(&mut *self.tx)
            .await?;
        Ok(())
    }
}

fn device(row: &SqliteRow) -> Result<DeviceRow, DatabaseError> {
    Ok(DeviceRow {
        id: DeviceId(row.try_get(0)?),
        name: row.try_get(1)?,
        letters: row.try_get(2)?,
        joined: ms(row.try_get(3)?),
        revoked: row.try_get::<Option<i64>, _>(4)?.map(ms),
        seen: ms(row.try_get(5)?),
        seq: to_u64(row.try_get(6)?)?,
        app: row.try_get(7)?,
    })
}
