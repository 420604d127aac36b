//! `waxend check`.

use super::{CliError, existing, say};
use crate::config::Cli;
use server_core::shop::CheckReport;

/// Reads every entry and photograph and reports what is wrong.
pub(super) async fn check(cli: &Cli) -> Result<(), CliError> {
    let shop = existing(cli)?.open().await?;
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
    wrong.iter().for_each(|fault| say(&format!("WRONG: {fault}")));
    match wrong.len() {
        0 => {
            say("All is well.");
            Ok(())
        }
        1 => Err(CliError::Wrong("1 thing".to_owned())),
        n => Err(CliError::Wrong(format!("{n} things"))),
    }
}
