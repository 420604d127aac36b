//! Devices, tokens and join codes in SQLite.

use shared::log::{DeviceId, UnixMs};
use sqlx::Row;
use sqlx::sqlite::SqliteRow;
use uuid::Uuid;

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
        let row = sqlx::query("SELECT hash, device, given, seen, revoked FROM tokens WHERE hash = $1")
            .bind(hash.0.to_vec())
            .fetch_optional(&mut *self.tx)
            .await?;
        row.map(|row| Ok(token(&row)?.1)).transpose()
    }

    async fn tokens_of(&mut self, device: DeviceId) -> Result<Vec<(SecretDigest, TokenRow)>, DatabaseError> {
        let found = sqlx::query("SELECT hash, device, given, seen, revoked FROM tokens WHERE device = $1")
            .bind(device.0)
            .fetch_all(&mut *self.tx)
            .await?;
        found.iter().map(token).collect()
    }

    async fn revoked_tokens(&mut self) -> Result<Vec<(SecretDigest, UnixMs)>, DatabaseError> {
        let found = sqlx::query("SELECT hash, revoked FROM tokens WHERE revoked IS NOT NULL")
            .fetch_all(&mut *self.tx)
            .await?;
        found
            .iter()
            .map(|row| Ok((secret(row.try_get(0)?)?, ms(row.try_get(1)?))))
            .collect()
    }

    async fn put_token(&mut self, hash: &SecretDigest, row: &TokenRow) -> Result<(), DatabaseError> {
        sqlx::query(
            "INSERT INTO tokens (hash, device, given, seen, revoked) VALUES ($1, $2, $3, $4, $5) \
             ON CONFLICT (hash) DO UPDATE SET device = excluded.device, given = excluded.given, \
             seen = excluded.seen, revoked = excluded.revoked",
        )
        .bind(hash.0.to_vec())
        .bind(row.device.0)
        .bind(row.given.0)
        .bind(row.seen.map(|seen| seen.0))
        .bind(row.revoked.map(|revoked| revoked.0))
        .execute(&mut *self.tx)
        .await?;
        Ok(())
    }

    async fn join_code(&mut self, hash: &SecretDigest) -> Result<Option<JoinCodeRow>, DatabaseError> {
        let row = sqlx::query("SELECT expires, used, used_by, minted_by FROM join_codes WHERE hash = $1")
            .bind(hash.0.to_vec())
            .fetch_optional(&mut *self.tx)
            .await?;
        row.map(|row| {
            Ok(JoinCodeRow {
                expires: ms(row.try_get(0)?),
                used: row.try_get(1)?,
                used_by: row.try_get::<Option<Uuid>, _>(2)?.map(DeviceId),
                minted_by: row.try_get::<Option<Uuid>, _>(3)?.map(DeviceId),
            })
        })
        .transpose()
    }

    async fn put_join_code(&mut self, hash: &SecretDigest, row: &JoinCodeRow) -> Result<(), DatabaseError> {
        sqlx::query(
            "INSERT INTO join_codes (hash, expires, used, used_by, minted_by) VALUES ($1, $2, $3, $4, $5) \
             ON CONFLICT (hash) DO UPDATE SET expires = excluded.expires, used = excluded.used, \
             used_by = excluded.used_by, minted_by = excluded.minted_by",
        )
        .bind(hash.0.to_vec())
        .bind(row.expires.0)
        .bind(row.used)
        .bind(row.used_by.map(|device| device.0))
        .bind(row.minted_by.map(|device| device.0))
        .execute(&mut *self.tx)
        .await?;
        Ok(())
    }

    async fn void_join_codes(&mut self, minted_by: DeviceId) -> Result<(), DatabaseError> {
        sqlx::query("DELETE FROM join_codes WHERE minted_by = $1")
            .bind(minted_by.0)
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

/// A token from the columns `hash, device, given, seen, revoked`.
fn token(row: &SqliteRow) -> Result<(SecretDigest, TokenRow), DatabaseError> {
    let token = TokenRow {
        device: DeviceId(row.try_get(1)?),
        given: ms(row.try_get(2)?),
        seen: row.try_get::<Option<i64>, _>(3)?.map(ms),
        revoked: row.try_get::<Option<i64>, _>(4)?.map(ms),
    };
    Ok((secret(row.try_get(0)?)?, token))
}

/// The digest of a secret that SQLite has stored.
fn secret(bytes: &[u8]) -> Result<SecretDigest, DatabaseError> {
    bytes
        .try_into()
        .map(SecretDigest)
        .map_err(|_| DatabaseError::Damaged("a hash of the wrong length"))
}
