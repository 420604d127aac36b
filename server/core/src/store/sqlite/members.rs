//! Devices, tokens and join codes in SQLite.

use shared::log::body::Role;
use shared::log::{DeviceId, UnixMs};
use sqlx::Row;
use sqlx::sqlite::SqliteRow;
use uuid::Uuid;

use super::row_digest::{ColumnValue, DEVICES, JOIN_CODES, TOKENS};
use super::{SqliteTx, ms, to_i64, to_u64};
use crate::store::{DatabaseError, DeviceRow, JoinCodeRow, MemberTx, SecretDigest, TokenRow};

impl MemberTx for SqliteTx {
    async fn device(&mut self, id: DeviceId) -> Result<Option<DeviceRow>, DatabaseError> {
        let found = self
            .intact_rows(&DEVICES, "WHERE id = $1", &[(&id.0).into()])
            .await?;
        found.first().map(device).transpose()
    }

    async fn devices(&mut self) -> Result<Vec<DeviceRow>, DatabaseError> {
        let found = self
            .intact_rows(&DEVICES, "ORDER BY joined, letters", &[])
            .await?;
        found.iter().map(device).collect()
    }

    async fn put_device(&mut self, row: &DeviceRow) -> Result<(), DatabaseError> {
        let values: [ColumnValue<'_>; 9] = [
            (&row.id.0).into(),
            row.name.as_str().into(),
            row.letters.as_str().into(),
            row.joined.into(),
            row.revoked.into(),
            row.seen.into(),
            to_i64(row.seq).into(),
            row.app.as_deref().into(),
            row.role.as_str().into(),
        ];
        self.put_row(&DEVICES, &values).await
    }

    async fn token(&mut self, hash: &SecretDigest) -> Result<Option<TokenRow>, DatabaseError> {
        let found = self
            .intact_rows(&TOKENS, "WHERE hash = $1", &[bytes(hash)])
            .await?;
        found.first().map(|row| Ok(token(row)?.1)).transpose()
    }

    async fn tokens_of(&mut self, device: DeviceId) -> Result<Vec<(SecretDigest, TokenRow)>, DatabaseError> {
        let found = self
            .intact_rows(&TOKENS, "WHERE device = $1", &[(&device.0).into()])
            .await?;
        found.iter().map(token).collect()
    }

    async fn revoked_tokens(&mut self) -> Result<Vec<(SecretDigest, UnixMs)>, DatabaseError> {
        let found = self
            .intact_rows(&TOKENS, "WHERE revoked IS NOT NULL", &[])
            .await?;
        found
            .iter()
            .map(|row| Ok((secret(row.try_get("hash")?)?, ms(row.try_get("revoked")?))))
            .collect()
    }

    async fn put_token(&mut self, hash: &SecretDigest, row: &TokenRow) -> Result<(), DatabaseError> {
        let values: [ColumnValue<'_>; 5] = [
            bytes(hash),
            (&row.device.0).into(),
            row.given.into(),
            row.seen.into(),
            row.revoked.into(),
        ];
        self.put_row(&TOKENS, &values).await
    }

    async fn join_code(&mut self, hash: &SecretDigest) -> Result<Option<JoinCodeRow>, DatabaseError> {
        let found = self
            .intact_rows(&JOIN_CODES, "WHERE hash = $1", &[bytes(hash)])
            .await?;
        found.first().map(join_code).transpose()
    }

    async fn put_join_code(&mut self, hash: &SecretDigest, row: &JoinCodeRow) -> Result<(), DatabaseError> {
        let values: [ColumnValue<'_>; 6] = [
            bytes(hash),
            row.expires.into(),
            i64::from(row.used).into(),
            row.used_by.as_ref().map(|device| &device.0).into(),
            row.minted_by.as_ref().map(|device| &device.0).into(),
            row.role.as_str().into(),
        ];
        self.put_row(&JOIN_CODES, &values).await
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

fn bytes(hash: &SecretDigest) -> ColumnValue<'_> {
    ColumnValue::Blob(&hash.0)
}

/// A device from the columns of [`DEVICES`].
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
        role: Role::from(row.try_get::<&str, _>(8)?),
    })
}

/// A token from the columns of [`TOKENS`].
fn token(row: &SqliteRow) -> Result<(SecretDigest, TokenRow), DatabaseError> {
    let token = TokenRow {
        device: DeviceId(row.try_get(1)?),
        given: ms(row.try_get(2)?),
        seen: row.try_get::<Option<i64>, _>(3)?.map(ms),
        revoked: row.try_get::<Option<i64>, _>(4)?.map(ms),
    };
    Ok((secret(row.try_get(0)?)?, token))
}

/// A join code from the columns of [`JOIN_CODES`].
fn join_code(row: &SqliteRow) -> Result<JoinCodeRow, DatabaseError> {
    Ok(JoinCodeRow {
        expires: ms(row.try_get(1)?),
        used: row.try_get(2)?,
        used_by: row.try_get::<Option<Uuid>, _>(3)?.map(DeviceId),
        minted_by: row.try_get::<Option<Uuid>, _>(4)?.map(DeviceId),
        role: Role::from(row.try_get::<&str, _>(5)?),
    })
}

/// The digest of a secret that SQLite has stored.
fn secret(bytes: &[u8]) -> Result<SecretDigest, DatabaseError> {
    bytes
        .try_into()
        .map(SecretDigest)
        .map_err(|_| DatabaseError::Damaged("a hash of the wrong length"))
}
