//! Revoked tokens. They also stand in the ledger, so that an older database brings none of them back.

use std::collections::{HashMap, HashSet};

use shared::log::{DeviceId, UnixMs};

use super::Shop;
use crate::error::Error;
use crate::ledger::{LedgerLine, RevokedToken, Why};
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
        let noted: HashSet<SecretDigest> = ledger
            .iter()
            .filter_map(revocation)
            .map(|(hash, _)| hash)
            .collect();
        let lines: Vec<_> = revoked
            .iter()
            .filter(|(hash, _)| !noted.contains(hash))
            .map(|(hash, at)| line(hash, *at, None))
            .collect();
        self.book.note(&lines)?;
        if revived.is_empty() {
            return Ok(());
        }
        let mut tx = self.begin(TxMode::Write).await?;
        for (hash, revoked) in &revived {
            revoke_revived(&mut tx, hash, *revoked).await?;
        }
        Ok(tx.commit().await?)
    }

    /// Revokes a token that has expired.
    pub(super) async fn revoke_token(&self, hash: &SecretDigest, now: UnixMs) -> Result<(), Error> {
        let mut tx = self.begin(TxMode::Write).await?;
        let valid = tx.token(hash).await?.filter(|token| token.revoked.is_none());
        if let Some(token) = valid {
            revoke(&mut tx, hash, token, now).await?;
            self.book.note(&[line(hash, now, Some(Why::Expired))])?;
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
    why: Why,
) -> Result<Vec<LedgerLine>, Error> {
    let mut lines = Vec::new();
    for (hash, token) in tx.tokens_of(device).await? {
        let at = token.revoked.unwrap_or(now);
        if token.revoked.is_none() {
            revoke(tx, &hash, token, at).await?;
        }
        lines.push(line(&hash, at, Some(why)));
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

/// What the ledger says of a token that the database has as valid.
#[derive(Debug, Clone, Copy)]
struct Revived {
    /// When it was revoked.
    at: UnixMs,
    /// Whether its device was shut out then. Where the ledger does not say it, that is assumed.
    shut_out: bool,
}

/// The tokens that were revoked according to the ledger and were not according to the database.
async fn revived<T: StoreTx>(
    tx: &mut T,
    ledger: &[LedgerLine],
) -> Result<HashMap<SecretDigest, Revived>, Error> {
    let mut found: HashMap<SecretDigest, Revived> = HashMap::new();
    for (hash, revoked) in ledger.iter().filter_map(revocation) {
        let shut_out = !matches!(revoked.why, Some(Why::Replaced | Why::Expired));
        if let Some(before) = found.get_mut(&hash) {
            before.shut_out |= shut_out;
        } else if tx
            .token(&hash)
            .await?
            .is_some_and(|token| token.revoked.is_none())
        {
            let at = revoked.at;
            found.insert(hash, Revived { at, shut_out });
        }
    }
    Ok(found)
}

/// Revokes a token that has come back with an older database. The join codes that its device had asked for are void. If the
/// device was shut out, it is again.
async fn revoke_revived<T: StoreTx>(
    tx: &mut T,
    hash: &SecretDigest,
    Revived { at, shut_out }: Revived,
) -> Result<(), Error> {
    // Another process may have revoked it since it was looked up.
    let token = tx.token(hash).await?.filter(|token| token.revoked.is_none());
    let Some(token) = token else {
        return Ok(());
    };
    revoke(tx, hash, token, at).await?;
    tx.void_join_codes(token.device).await?;
    if shut_out && let Some(mut device) = tx.device(token.device).await? {
        device.revoked.get_or_insert(at);
        tx.put_device(&device).await?;
    }
    Ok(())
}

fn line(hash: &SecretDigest, at: UnixMs, why: Option<Why>) -> LedgerLine {
    LedgerLine::Revoked(RevokedToken {
        token: hex::encode(hash.0),
        at,
        why,
    })
}

/// The token that a line of the ledger revokes, and the line, if it is one.
fn revocation(line: &LedgerLine) -> Option<(SecretDigest, &RevokedToken)> {
    match line {
        LedgerLine::Revoked(revoked) => Some((digest(&revoked.token)?, revoked)),
        LedgerLine::Erased(_) | LedgerLine::Blob(_) => None,
    }
}

/// The digest that a line of the ledger names; `None` if it names none.
fn digest(text: &str) -> Option<SecretDigest> {
    let mut bytes = [0; 32];
    hex::decode_to_slice(text, &mut bytes).ok()?;
    Some(SecretDigest(bytes))
}
