//! Revoked tokens. They also stand in the ledger, so that an older database brings none of them back.

use shared::log::{DeviceId, UnixMs};

use super::Shop;
use crate::error::Error;
use crate::ledger::{LedgerLine, RevokedToken};
use crate::photos::Photos;
use crate::store::{MemberTx, SecretDigest, Store, StoreTx, TokenRow, TxMode};

impl<S: Store, P: Photos> Shop<S, P> {
    /// Revokes again what the ledger says was revoked. What an earlier version has revoked in the database only is noted
    /// in the ledger.
    pub(super) async fn revoke_again(&self, ledger: &[LedgerLine]) -> Result<(), Error> {
        let mut tx = self.begin(TxMode::Read).await?;
        let revoked = tx.revoked_tokens().await?;
        let revived = revived(&mut tx, ledger).await?;
        tx.commit().await?;
        let lines: Vec<_> = revoked.iter().map(|(hash, at)| line(hash, *at)).collect();
        self.book.note(&lines)?;
        if revived.is_empty() {
            return Ok(());
        }
        let mut tx = self.begin(TxMode::Write).await?;
        for (hash, at) in &revived {
            shut_out_again(&mut tx, hash, *at).await?;
        }
        Ok(tx.commit().await?)
    }

    /// Revokes one token.
    pub(super) async fn revoke_token(&self, hash: &SecretDigest, now: UnixMs) -> Result<(), Error> {
        let mut tx = self.begin(TxMode::Write).await?;
        let valid = tx.token(hash).await?.filter(|token| token.revoked.is_none());
        if let Some(token) = valid {
            revoke(&mut tx, hash, token, now).await?;
            self.book.note(&[line(hash, now)])?;
        }
        Ok(tx.commit().await?)
    }
}

/// Revokes every token of a device. Returns the lines that the ledger has to have before the commit: one for each token
/// that the device ever had.
pub(super) async fn revoke_tokens<T: StoreTx>(
    tx: &mut T,
    device: DeviceId,
    now: UnixMs,
) -> Result<Vec<LedgerLine>, Error> {
    let mut lines = Vec::new();
    for (hash, token) in tx.tokens_of(device).await? {
        let at = token.revoked.unwrap_or(now);
        if token.revoked.is_none() {
            revoke(tx, &hash, token, at).await?;
        }
        lines.push(line(&hash, at));
    }
    Ok(lines)
}

async fn revoke<T: StoreTx>(
    tx: &mut T,
    hash: &SecretDigest,
    token: TokenRow,
    at: UnixMs,
) -> Result<(), Error> {
    let revoked = TokenRow {
        revoked: Some(at),
        ..token
    };
    Ok(tx.put_token(hash, &revoked).await?)
}

/// The tokens that were revoked according to the ledger and were not according to the database.
async fn revived<T: StoreTx>(
    tx: &mut T,
    ledger: &[LedgerLine],
) -> Result<Vec<(SecretDigest, UnixMs)>, Error> {
    let mut found = Vec::new();
    for line in ledger {
        let LedgerLine::Revoked(revoked) = line else {
            continue;
        };
        let Some(hash) = digest(&revoked.token) else {
            continue;
        };
        let token = tx.token(&hash).await?;
        if token.is_some_and(|token| token.revoked.is_none()) {
            found.push((hash, revoked.at));
        }
    }
    Ok(found)
}

/// Revokes a token that has come back with an older database. Its device had no other one then, so it is shut out, and
/// the join codes that it had asked for are void.
async fn shut_out_again<T: StoreTx>(tx: &mut T, hash: &SecretDigest, at: UnixMs) -> Result<(), Error> {
    // Another process may have revoked it since it was looked up.
    let token = tx.token(hash).await?.filter(|token| token.revoked.is_none());
    let Some(token) = token else {
        return Ok(());
    };
    revoke(tx, hash, token, at).await?;
    tx.void_join_codes(token.device).await?;
    if let Some(mut device) = tx.device(token.device).await? {
        device.revoked.get_or_insert(at);
        tx.put_device(&device).await?;
    }
    Ok(())
}

fn line(hash: &SecretDigest, at: UnixMs) -> LedgerLine {
    LedgerLine::Revoked(RevokedToken {
        token: hex::encode(hash.0),
        at,
    })
}

/// The digest that a line of the ledger names; `None` if it names none.
fn digest(text: &str) -> Option<SecretDigest> {
    let mut bytes = [0; 32];
    hex::decode_to_slice(text, &mut bytes).ok()?;
    Some(SecretDigest(bytes))
}
