//! `waxend backup`.

use std::io;
use std::path::Path;

use super::{CliError, doing, existing, say};
use crate::backup;
use crate::config::Cli;
use server_core::store::{BlobTx, Store, TxMode};

/// Writes the database and the photographs into one file; the erasure ledger stays out.
pub(super) async fn backup(cli: &Cli, file: &Path) -> Result<(), CliError> {
    if file.exists() {
        return Err(doing(format!("making {}", file.display()))(
            io::ErrorKind::AlreadyExists.into(),
        ));
    }
    let data = existing(cli)?;
    let shop = data.open().await?;
    // The database is copied first. A photograph is stored before the row that lists it, so none that is listed will be
    // missing.
    let copy = file.with_added_extension("db");
    // A copy that an interrupted backup has left would be in the way.
    let _ = std::fs::remove_file(&copy);
    let copied = shop.store().copy_to(&copy).await;
    let photos = {
        let mut tx = shop
            .store()
            .begin(TxMode::Read)
            .await
            .map_err(server_core::error::Error::from)?;
        tx.all_blobs().await.map_err(server_core::error::Error::from)?
    };
    let root = data.photos();
    let paths: Vec<_> = photos
        .iter()
        .filter_map(|row| {
            shop.photos()
                .path(&row.hash)
                .strip_prefix(&root)
                .map(Path::to_path_buf)
                .ok()
        })
        .collect();
    let written = copied
        .map_err(|error| CliError::from(server_core::error::Error::from(error)))
        .and_then(|()| {
            backup::write(file, &copy, &root, &paths).map_err(doing(format!("writing {}", file.display())))
        });
    let _ = std::fs::remove_file(&copy);
    shop.store().close().await;
    written?;
    say(&format!(
        "{} holds the shop's records and {} photographs.",
        file.display(),
        paths.len()
    ));
    Ok(())
}
