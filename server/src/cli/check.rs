//! `waxend check`.

use std::path::Path;

use super::{CliError, doing, existing, say};
use crate::config::Cli;
use crate::data::DataFolder;
use crate::http::Home;
use crate::put_aside;
use server_core::error::Error;
use server_core::ledger::FileLedger;
use server_core::shop::CheckReport;
use server_core::store::{AsideTx, LogTx, Store, TxMode};
use shared::log::EntryId;

/// Reads every entry and photograph and reports what is wrong.
pub(super) async fn check(cli: &Cli) -> Result<(), CliError> {
    let data = existing(cli)?;
    let shop = opened(&data).await?;
    let checked = checked(&shop, &data).await;
    shop.store().close().await;
    tell(&checked?)?;
    say("All is well.");
    Ok(())
}

/// Checks a shop, and says what there is, other than faults. Returns the faults.
pub(super) async fn checked(shop: &Home, data: &DataFolder) -> Result<Vec<String>, CliError> {
    let CheckReport {
        entries,
        blobs,
        awaited,
        mut wrong,
    } = shop.check().await?;
    say(&format!(
        "{entries} entries, {blobs} photographs and voice notes, {} not yet arrived.",
        awaited.len()
    ));
    awaited
        .iter()
        .for_each(|hash| say(&format!("not yet arrived: {hash}")));
    let ledger = FileLedger::new(&data.ledger()).read();
    let ledger = ledger.map_err(doing("reading the erasure ledger"))?;
    let damaged = ledger.map_or(0, |read| read.damaged);
    if damaged > 0 {
        wrong.push(format!(
            "lines of the erasure ledger {} that are damaged: {damaged}",
            data.ledger().display()
        ));
    }
    wrong.extend(tell_of_put_aside(shop, data).await?);
    Ok(wrong)
}

/// Says what restores and repairs have put aside. Returns what of it is a fault: damaged entries that no device has
/// brought again.
async fn tell_of_put_aside(shop: &Home, data: &DataFolder) -> Result<Vec<String>, CliError> {
    let replaced = put_aside::replaced(data.root()).map_err(doing("reading the data folder"))?;
    let damaged = put_aside::damaged(data.root()).map_err(doing("reading the data folder"))?;
    for file in replaced.iter().chain(&damaged) {
        say(&format!("put aside until the next erasure: {}", file.display()));
    }
    let mut wrong = Vec::new();
    for file in damaged {
        let gone = still_gone(shop, &file).await?;
        if gone > 0 {
            wrong.push(format!(
                "damaged entries that no device has brought again: {gone}; what is left of them is in {}",
                file.display()
            ));
        }
    }
    Ok(wrong)
}

/// How many of the damaged entries in a file no device has brought again. One that was kept aside can be so again.
pub(super) async fn still_gone(shop: &Home, file: &Path) -> Result<usize, CliError> {
    let ids = put_aside::ids(file).map_err(doing("reading what was put aside"))?;
    let known: Vec<_> = ids.iter().flatten().copied().collect();
    let mut tx = shop.store().begin(TxMode::Read).await.map_err(Error::from)?;
    let back = tx.arrivals(&known).await.map_err(Error::from)?;
    let aside = tx.aside(&known).await.map_err(Error::from)?;
    let is_back = |id: &&EntryId| back.contains_key(*id) || aside.contains_key(*id);
    Ok(ids.len() - known.iter().filter(is_back).count())
}

/// Opens the shop. If that fails, damage to the database may be the reason, so that is told first.
pub(super) async fn opened(data: &DataFolder) -> Result<Home, CliError> {
    match data.open().await {
        Ok(shop) => Ok(shop),
        Err(error) => {
            if let Ok(store) = data.open_store().await {
                let faults = store.faults().await.unwrap_or_default();
                store.close().await;
                tell(&faults)?;
            }
            Err(error.into())
        }
    }
}

/// Says each fault on a line of its own.
///
/// # Errors
/// [`CliError::Wrong`] if there are any.
pub(super) fn tell(wrong: &[String]) -> Result<(), CliError> {
    wrong.iter().for_each(|fault| say(&format!("WRONG: {fault}")));
    match wrong.len() {
        0 => Ok(()),
        1 => Err(CliError::Wrong("1 thing".to_owned())),
        n => Err(CliError::Wrong(format!("{n} things"))),
    }
}
