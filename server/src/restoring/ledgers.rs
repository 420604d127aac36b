//! The erasure ledgers that a restore has to obey. Without one that is whole, it could bring back what was erased and
//! devices that were shut out.

use std::path::Path;

use server_core::error::Error;
use server_core::ledger::{FileLedger, LedgerLine, RevokedToken, Why};
use server_core::store::{MemberTx, Store, StoreTx, TokenRow, TxMode};
use shared::log::UnixMs;

use super::error::RestoreError;
use crate::data::DataFolder;

/// The lines of the ledger that a restore names, if it names one. One that is missing or damaged stops the restore; so
/// does the data folder's own, unless another one is named. `without` takes what can be read.
pub(super) fn named_lines(
    data: &DataFolder,
    named: Option<&Path>,
    without: bool,
) -> Result<Vec<LedgerLine>, RestoreError> {
    let own = data.ledger();
    match named {
        Some(named) => whole(named, without),
        // A folder without a shop need not have a ledger.
        None if data.is_empty() && !own.exists() => Ok(Vec::new()),
        // Its lines are there already.
        None => whole(&own, without).map(|_| Vec::new()),
    }
}

fn whole(path: &Path, without: bool) -> Result<Vec<LedgerLine>, RestoreError> {
    match FileLedger::new(path).read()? {
        Some(read) if read.is_sound() || without => Ok(read.lines),
        Some(_) => Err(RestoreError::LedgerDamaged(path.to_owned())),
        None if without => Ok(Vec::new()),
        None => Err(RestoreError::LedgerMissing(path.to_owned())),
    }
}

/// Revokes every token of a database and voids all join codes: without a ledger it is not known which devices were shut
/// out. None of them is shut out by this; each joins again. Returns the lines that the ledger has to have.
pub(super) async fn void_tokens<S: Store>(store: &S, now: UnixMs) -> Result<Vec<LedgerLine>, Error> {
    let mut tx = store.begin(TxMode::Write).await?;
    let mut lines = Vec::new();
    for device in tx.devices().await? {
        for (hash, token) in tx.tokens_of(device.id).await? {
            if token.revoked.is_none() {
                let revoked = Some(now);
                tx.put_token(&hash, &TokenRow { revoked, ..token }).await?;
                lines.push(LedgerLine::Revoked(RevokedToken {
                    token: hex::encode(hash.0),
                    at: now,
                    why: Some(Why::Replaced),
                }));
            }
        }
    }
    tx.forget_join_codes(UnixMs(i64::MAX)).await?;
    tx.commit().await?;
    Ok(lines)
}
