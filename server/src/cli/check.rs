//! `waxend check`.

use super::{CliError, existing, say};
use crate::config::Cli;
use crate::data::DataFolder;
use crate::http::Home;
use server_core::shop::CheckReport;
use server_core::store::Store;

/// Reads every entry and photograph and reports what is wrong.
pub(super) async fn check(cli: &Cli) -> Result<(), CliError> {
    let shop = opened(&existing(cli)?).await?;
    let CheckReport {
        entries,
        blobs,
        awaited,
        wrong,
    } = shop.check().await?;
    shop.store().close().await;
    say(&format!(
        "{entries} entries, {blobs} photographs and voice notes, {} not yet arrived.",
        awaited.len()
    ));
    awaited
        .iter()
        .for_each(|hash| say(&format!("not yet arrived: {hash}")));
    tell(&wrong)?;
    say("All is well.");
    Ok(())
}

/// Opens the shop. If that fails, damage to the database may be the reason, so that is told first.
async fn opened(data: &DataFolder) -> Result<Home, CliError> {
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
