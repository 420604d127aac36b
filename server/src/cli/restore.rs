//! `waxend restore`.

use super::{CliError, doing, locked, say};
use crate::config::{Cli, RestoreArgs};
use crate::disk::Disk;
use crate::restoring::{self, RestoreError};

/// Restores a backup into the data folder under a new epoch. Whatever the erasure ledger names is erased again.
pub(super) async fn restore(cli: &Cli, args: &RestoreArgs) -> Result<(), CliError> {
    let (data, _lock) = locked(cli)?;
    if !data.is_empty() && !args.replace {
        return Err(CliError::ShopThere(cli.data.clone()));
    }
    let restored = restoring::restore(&data, &args.file, args.ledger.as_deref(), &Disk::default()).await;
    restored.map_err(|error| match error {
        RestoreError::NotABackup => CliError::NotABackup(args.file.clone()),
        RestoreError::Damaged(what) => CliError::DamagedBackup {
            file: args.file.clone(),
            what,
        },
        RestoreError::Disk(error) => doing(format!("restoring {}", args.file.display()))(error),
        RestoreError::Shop(error) => error.into(),
    })?;
    // Opening the shop applies the erasure ledger.
    let shop = data.open().await?;
    let status = shop.status().await?;
    shop.store().close().await;
    say(&format!(
        "Restored {} entries and {} photographs.",
        status.entries, status.blobs
    ));
    Ok(())
}
