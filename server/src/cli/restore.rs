//! `waxend restore`.

use std::fs;
use std::io;
use std::path::Path;

use super::{CliError, close_to_others, doing, say};
use crate::backup;
use crate::config::{Cli, RestoreArgs};
use crate::data::DataFolder;
use crate::error::Error;
use crate::ledger::{FileLedger, Ledger};
use crate::store::{LogTx, Mode, Store, StoreTx};
use crate::world::{RealWorld, World};

/// Puts a backup into the data folder, under a new epoch, and erases again what the ledger names.
pub(super) async fn restore(cli: &Cli, args: &RestoreArgs) -> Result<(), CliError> {
    let data = DataFolder::at(&cli.data).map_err(doing("opening the data folder"))?;
    let _lock = data.lock().map_err(|_| CliError::Running)?;
    close_to_others(&data);
    if !data.is_empty() && !args.replace {
        return Err(CliError::ShopThere(cli.data.clone()));
    }
    let unpacked = unpack(&args.file, &cli.data)?;
    check_database(&unpacked, &args.file).await?;
    swap(&data, unpacked.path())?;
    if let Some(ledger) = &args.ledger {
        adopt(&data, ledger)?;
    }
    new_epoch(&data).await?;
    // Opening erases again whatever the ledger names.
    let shop = data.open().await?;
    let status = shop.status().await?;
    shop.store().close().await;
    say(&format!(
        "Restored {} entries and {} photographs.",
        status.entries, status.blobs
    ));
    Ok(())
}

/// Unpacks beside the data, so that a backup that is not whole changes nothing.
fn unpack(file: &Path, data: &Path) -> Result<Unpacked, CliError> {
    let unpacked = Unpacked::beside(data).map_err(doing("unpacking the backup"))?;
    match backup::read(file, unpacked.path()) {
        Ok(()) => Ok(unpacked),
        Err(error) if error.kind() == io::ErrorKind::InvalidData => {
            Err(CliError::NotABackup(file.to_owned()))
        }
        Err(error) => Err(doing(format!("reading {}", file.display()))(error)),
    }
}

/// A folder that is removed again with what is left in it.
struct Unpacked(std::path::PathBuf);

impl Unpacked {
    fn beside(data: &Path) -> io::Result<Self> {
        let path = data.join(format!("restoring-{}", std::process::id()));
        fs::create_dir(&path)?;
        Ok(Self(path))
    }

    fn path(&self) -> &Path {
        &self.0
    }
}

impl Drop for Unpacked {
    fn drop(&mut self) {
        // What cannot be removed is a folder too many, nothing worse.
        let _ = fs::remove_dir_all(&self.0);
    }
}

async fn check_database(unpacked: &Unpacked, file: &Path) -> Result<(), CliError> {
    let folder = DataFolder::at(unpacked.path()).map_err(doing("unpacking the backup"))?;
    if folder.is_empty() {
        return Err(CliError::NotABackup(file.to_owned()));
    }
    let store = folder
        .open_store()
        .await
        .map_err(|_| CliError::NotABackup(file.to_owned()))?;
    store.close().await;
    Ok(())
}

/// Moves the unpacked database and photographs into place. The database there now is kept under another name;
/// photographs there now stay, since each is named by its own content.
fn swap(data: &DataFolder, unpacked: &Path) -> Result<(), CliError> {
    let world: &dyn World = &RealWorld;
    let from = DataFolder::at(unpacked).map_err(doing("unpacking the backup"))?;
    let moved = || -> io::Result<()> {
        if !data.is_empty() {
            set_aside(&data.database(), world.now().0)?;
        }
        merge(&from.photos(), &data.photos())?;
        fs::rename(from.database(), data.database())
    };
    moved().map_err(doing("putting the backup into place"))
}

/// Renames a database with its write-ahead log.
fn set_aside(database: &Path, now: i64) -> io::Result<()> {
    for suffix in ["", "-wal", "-shm"] {
        let name = |base: &Path| {
            let mut name = base.as_os_str().to_owned();
            name.push(suffix);
            std::path::PathBuf::from(name)
        };
        let old = name(database);
        if old.exists() {
            fs::rename(
                old,
                name(&database.with_added_extension(format!("replaced-{now}"))),
            )?;
        }
    }
    Ok(())
}

fn merge(from: &Path, to: &Path) -> io::Result<()> {
    fs::create_dir_all(to)?;
    let entries = match fs::read_dir(from) {
        Ok(entries) => entries,
        Err(error) if error.kind() == io::ErrorKind::NotFound => return Ok(()),
        Err(error) => return Err(error),
    };
    for entry in entries {
        let entry = entry?;
        let place = to.join(entry.file_name());
        if entry.file_type()?.is_dir() {
            merge(&entry.path(), &place)?;
        } else {
            fs::rename(entry.path(), place)?;
        }
    }
    fs::File::open(to)?.sync_all()
}

/// Adds another ledger's lines to the one in the data folder.
fn adopt(data: &DataFolder, ledger: &Path) -> Result<(), CliError> {
    let lines = FileLedger::new(ledger)
        .lines()
        .and_then(|lines| FileLedger::new(&data.ledger()).append(&lines));
    lines.map_err(doing("reading the erasure ledger"))
}

/// Tells every device that the numbering has changed under it.
async fn new_epoch(data: &DataFolder) -> Result<(), CliError> {
    let world: &dyn World = &RealWorld;
    let store = data.open_store().await?;
    let changed = async {
        let mut tx = store.begin(Mode::Write).await?;
        let mut counter = tx.counter().await?;
        counter.epoch = world.uuid();
        tx.set_counter(&counter).await?;
        tx.commit().await
    };
    changed.await.map_err(Error::from)?;
    store.close().await;
    Ok(())
}
