//! The devices of the shop: their tokens and roles, and shutting one out.

use shared::log::body::Role;
use shared::log::{DeviceId, UnixMs};

use super::revoked::revoke_tokens;
use super::{Shop, join_code};
use crate::error::Error;
use crate::ledger::Why;
use crate::photos::Photos;
use crate::store::{DeviceRow, MemberTx, SecretDigest, Store, StoreTx, TokenRow, TxMode};

/// How long a token is good after the last request that came with it, in ms.
pub const TOKEN_MS: u64 = 180 * 24 * 60 * 60 * 1000;
/// How long after one request that came with a token another one is noted, in ms. Each is a write.
const NOTED_AGAIN_MS: u64 = 60 * 60 * 1000;

/// A device that has access, with its role.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Member {
    /// The device.
    pub device: DeviceId,
    /// The role as which it has joined.
    pub role: Role,
}

impl<S: Store, P: Photos> Shop<S, P> {
    /// The device to which a token was given. The request that carries the token is noted.
    ///
    /// # Errors
    /// [`Error::TokenUnknown`], [`Error::TokenRevoked`], [`Error::TokenExpired`].
    pub async fn member_of(&self, token: &str) -> Result<Member, Error> {
        let now = self.world.now();
        let hash = join_code::digest(token);
        let mut tx = self.begin(TxMode::Read).await?;
        let row = tx.token(&hash).await?.ok_or(Error::TokenUnknown)?;
        let device = tx.device(row.device).await?.ok_or(Error::TokenUnknown)?;
        drop(tx);
        match row.revoked {
            Some(at) if has_expired(&row, at) => Err(Error::TokenExpired),
            Some(_) => Err(Error::TokenRevoked),
            None if has_expired(&row, now) => {
                // For good, whatever the clock says later: a device that is told so forgets the token.
                let _ = self.revoke_token(&hash, now).await;
                Err(Error::TokenExpired)
            }
            None => {
                if row.seen.is_none_or(|seen| apart(seen, now) >= NOTED_AGAIN_MS) {
                    // If this fails, as on a full disk, the next request is noted. This one is answered all the same.
                    let _ = self.note_token(&hash, now).await;
                }
                Ok(Member {
                    device: device.id,
                    role: device.role,
                })
            }
        }
    }

    async fn note_token(&self, hash: &SecretDigest, now: UnixMs) -> Result<(), Error> {
        let mut tx = self.begin(TxMode::Write).await?;
        if let Some(row) = tx.token(hash).await? {
            let seen = Some(now);
            tx.put_token(hash, &TokenRow { seen, ..row }).await?;
        }
        Ok(tx.commit().await?)
    }

    /// Every device that has ever joined, in the order of joining.
    ///
    /// # Errors
    /// A failure of the database.
    pub async fn devices(&self) -> Result<Vec<DeviceRow>, Error> {
        Ok(self.begin(TxMode::Read).await?.devices().await?)
    }

    /// Shuts a device out, on the command line: revokes its tokens and voids the join codes that it has asked for. What it
    /// has not pushed yet can be pushed after it has joined again.
    ///
    /// # Errors
    /// [`Error::NotFound`] for a device that never joined.
    pub async fn revoke(&self, device: DeviceId) -> Result<(), Error> {
        let mut tx = self.begin(TxMode::Write).await?;
        let row = tx.device(device).await?.ok_or(Error::NotFound)?;
        self.shut_out_row(tx, row).await
    }

    /// Shuts a device out, as [`Shop::revoke`] does, if a repairer's device asks for it.
    ///
    /// # Errors
    /// [`Error::NotFound`] for a device that never joined, [`Error::ForRepairer`] if a helper's device asks,
    /// [`Error::TokenRevoked`] if the one that asks was shut out meanwhile, [`Error::LastRepairer`] for the only repairer's
    /// device that has access.
    pub async fn shut_out(&self, by: &Member, device: DeviceId) -> Result<(), Error> {
        let mut tx = self.begin(TxMode::Write).await?;
        check_repairer(&mut tx, by).await?;
        let row = tx.device(device).await?.ok_or(Error::NotFound)?;
        if !has_repairer(&mut tx, Some(device)).await? {
            return Err(Error::LastRepairer);
        }
        self.shut_out_row(tx, row).await
    }

    async fn shut_out_row(&self, mut tx: S::Tx, mut row: DeviceRow) -> Result<(), Error> {
        let now = self.world.now();
        row.revoked.get_or_insert(now);
        tx.put_device(&row).await?;
        tx.void_join_codes(row.id).await?;
        let revoked = revoke_tokens(&mut tx, row.id, now, Why::ShutOut).await?;
        // As with erasures: a revocation that is committed must never be missing in the ledger.
        self.book.note(&revoked)?;
        Ok(tx.commit().await?)
    }

    /// Notes up to which number a device has read, and the version of its app if it sends one.
    ///
    /// # Errors
    /// A failure of the database.
    pub async fn note_seen(&self, device: DeviceId, seq: u64, app: Option<&str>) -> Result<(), Error> {
        let mut tx = self.begin(TxMode::Write).await?;
        let Some(mut row) = tx.device(device).await? else {
            return Ok(());
        };
        row.seen = self.world.now();
        row.seq = seq;
        row.app = app.map(str::to_owned);
        tx.put_device(&row).await?;
        Ok(tx.commit().await?)
    }
}

/// Whether a repairer's device, other than this one, has joined and was not shut out.
pub(super) async fn has_repairer<T: MemberTx>(tx: &mut T, besides: Option<DeviceId>) -> Result<bool, Error> {
    let lets_in =
        |row: &DeviceRow| row.revoked.is_none() && row.role == Role::Repairer && Some(row.id) != besides;
    Ok(tx.devices().await?.iter().any(lets_in))
}

/// Checks that a device is a repairer's and was not shut out since its token was looked up.
pub(super) async fn check_repairer<T: MemberTx>(tx: &mut T, member: &Member) -> Result<(), Error> {
    let row = tx.device(member.device).await?.ok_or(Error::TokenUnknown)?;
    if row.revoked.is_some() {
        return Err(Error::TokenRevoked);
    }
    if row.role != Role::Repairer {
        return Err(Error::ForRepairer);
    }
    Ok(())
}

/// Whether no request has come with a token for so long that it opens the shop no more. If the clock was set back since
/// the last one, the token is good for longer, but never for more than twice its time.
pub(super) fn has_expired(token: &TokenRow, now: UnixMs) -> bool {
    apart(token.seen.unwrap_or(token.given), now) > TOKEN_MS
}

/// How long it is from one of two times to the other, in ms.
pub(super) fn apart(one: UnixMs, other: UnixMs) -> u64 {
    one.0.abs_diff(other.0)
}
