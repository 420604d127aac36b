//! `waxend restore`.

use super::check::tell;
use super::{CliError, doing, locked, say};
use crate::config::{Cli, RestoreArgs};
use crate::data::DataFolder;
use crate::disk::Disk;
use crate::put_aside;
use crate::restoring::{self, RestoreError, RestoreOptions, Restored};

/// Restores a backup into the data folder under a new epoch. Whatever the erasure ledger names is erased again.
pub(super) async fn restore(cli: &Cli, args: &RestoreArgs) -> Result<(), CliError> {
    let (data, _lock) = locked(cli)?;
    if !data.is_empty() && !args.replace {
        return Err(CliError::ShopThere(cli.data.clone()));
    }
    let no_ledger = args.ledger.is_none() && !data.ledger().exists();
    let options = RestoreOptions {
        ledger: args.ledger.as_deref(),
        without_ledger: args.without_ledger,
        keep_replaced: args.keep_replaced,
    };
    let restored = restoring::restore(&data, &args.file, &options, &Disk::default()).await;
    let Restored { wrong, stayed } = restored.map_err(|error| failed(error, args))?;
    // Opening the shop applies the erasure ledger.
    let shop = data.open().await?;
    let found = shop.find_photographs().await;
    let status = shop.status().await;
    shop.store().close().await;
    found?;
    let status = status?;
    say(&format!(
        "Restored {} entries and {} photographs.",
        status.entries, status.blobs
    ));
    stayed.iter().for_each(|path| {
        say(&format!(
            "{path} is damaged in the backup; the intact one in the data folder stays."
        ));
    });
    tell_of_ledger(args, no_ledger);
    tell_of_replaced(&data, args)?;
    tell(&wrong)
}

fn failed(error: RestoreError, args: &RestoreArgs) -> CliError {
    match error {
        RestoreError::NotABackup => CliError::NotABackup(args.file.clone()),
        RestoreError::Damaged(what) => CliError::DamagedBackup {
            file: args.file.clone(),
            what,
        },
        RestoreError::LedgerMissing(path) => CliError::LedgerMissing(path),
        RestoreError::LedgerDamaged(path) => CliError::LedgerDamaged(path),
        RestoreError::Disk(error) => doing(format!("restoring {}", args.file.display()))(error),
        RestoreError::Shop(error) => error.into(),
    }
}

/// Says what is not as it would be with an erasure ledger.
fn tell_of_ledger(args: &RestoreArgs, no_ledger: bool) {
    if args.without_ledger {
        say(
            "Every device has to join again: `waxend join`. What was erased since the backup was made may be back.",
        );
    } else if no_ledger {
        say(
            "There was no erasure ledger: what was erased and devices that were shut out since the backup was made are \
             back. If there is a copy of erased.jsonl, restore again with --replace and --ledger.",
        );
    }
}

/// Says which databases are put aside, and why one was not kept.
fn tell_of_replaced(data: &DataFolder, args: &RestoreArgs) -> Result<(), CliError> {
    let replaced = put_aside::replaced(data.root()).map_err(doing("reading the data folder"))?;
    for file in &replaced {
        say(&format!(
            "A database that was replaced is kept: {}. Names that were erased may stand in it. Delete it when it is not \
             needed any more; the next erasure deletes it too.",
            file.display()
        ));
    }
    if args.keep_replaced && replaced.is_empty() {
        say("No database is kept: there was none, or the ledger that was named erases what stands in it.");
    }
    Ok(())
}
