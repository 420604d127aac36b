//! `waxend demo`.

use super::{CliError, locked, may_begin, say};
use crate::config::Cli;
use crate::demo;

/// Puts the demo shop into an empty data folder.
pub(super) async fn demo(cli: &Cli) -> Result<(), CliError> {
    let (data, _lock) = locked(cli)?;
    may_begin(&data)?;
    if !data.is_empty() {
        return Err(CliError::ShopThere(cli.data.clone()));
    }
    let shop = data.open().await?;
    let card = demo::seed(&shop).await?;
    shop.store().close().await;
    say(&format!(
        "The invented shop is in {}. Start it with `waxend serve`.",
        cli.data.display()
    ));
    say(&format!("One pair's care card will be at /card/{card}"));
    Ok(())
}
