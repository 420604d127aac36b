//! `waxend demo`.

use super::{CliError, doing, say};
use crate::config::Cli;
use crate::data::DataFolder;
use crate::demo;

/// Puts the invented shop into an empty data folder.
pub(super) async fn demo(cli: &Cli) -> Result<(), CliError> {
    let data = DataFolder::at(&cli.data).map_err(doing("opening the data folder"))?;
    let _lock = data.lock().map_err(|_| CliError::Running)?;
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
