//! Putting a backup into a data folder, so that a power cut at any step leaves the shop of before or the one of the
//! backup, never a new one.
//!
//! 1. The backup is unpacked into a folder of its own (`restoring-…`), looked over, and given a new epoch. The shop of
//!    before is untouched.
//! 2. That folder gets the name `restored-…`. From here on the backup is the shop.
//! 3. Its parts go to their places ([`settle`]): the ledger's lines first, so that nothing erased comes back; then the
//!    photographs, each named by its own content; then the database, once the one of before is put aside. Whoever opens
//!    the data folder next does what is left of this.
//!
//! What must be on the disk before the next step is synced, files and folders.

use std::fs;
use std::io;
use std::path::{Path, PathBuf};

use crate::backup;
use crate::data::DataFolder;
use crate::disk::Disk;
use crate::error::Error;
use crate::ledger::{ErasureLedger, FileLedger};
use crate::store::{LogTx, Store, StoreTx, TxMode};
use crate::world::{RealWorld, World};

/// How the name of a folder begins that a backup is unpacked into.
const DRAFT: &str = "restoring-";
/// How the name of one begins that only has to be put into place.
const READY: &str = "restored-";
/// What is in the name of a database that was put aside.
const ASIDE: &str = ".replaced-";

/// Why a backup was not restored.
#[derive(Debug, thiserror::Error)]
pub enum RestoreError {
    /// The file is not a whole backup of ours; nothing was changed.
    #[error("not a complete Waxend backup")]
    NotABackup,
    /// The data folder could not be changed.
    #[error(transparent)]
    Disk(#[from] io::Error),
    /// The database could not be changed.
    #[error(transparent)]
    Shop(#[from] Error),
}

/// Puts a backup in the place of whatever is in the data folder, and adds the lines of another ledger to its own. Only
/// for whoever has the folder's lock.
///
/// # Errors
/// [`RestoreError`]. Before step 2 nothing has changed then; after it [`settle`] does the rest.
pub async fn restore(
    data: &DataFolder,
    file: &Path,
    ledger: Option<&Path>,
    disk: &Disk,
) -> Result<(), RestoreError> {
    let draft = data.root().join(format!("{DRAFT}{}", std::process::id()));
    clear_drafts(data, disk)?;
    disk.create_folder(&draft)?;
    if let Err(error) = prepare(&draft, file, ledger, disk).await {
        // What cannot be removed goes with the next restore.
        let _ = disk.remove_folder(&draft);
        return Err(error);
    }
    let world: &dyn World = &RealWorld;
    let ready = data.root().join(format!("{READY}{}", world.now().0));
    disk.rename(&draft, &ready)?;
    disk.sync(data.root())?;
    settle(data, disk)?;
    Ok(())
}

/// Step 1.
async fn prepare(draft: &Path, file: &Path, ledger: Option<&Path>, disk: &Disk) -> Result<(), RestoreError> {
    backup::read(file, draft, disk).map_err(|error| match error.kind() {
        io::ErrorKind::InvalidData => RestoreError::NotABackup,
        _ => error.into(),
    })?;
    let folder = DataFolder::at(draft)?;
    if folder.is_empty() {
        return Err(RestoreError::NotABackup);
    }
    new_epoch(&folder).await?;
    if let Some(ledger) = ledger {
        let lines = FileLedger::new(ledger).lines()?;
        FileLedger::new(&folder.ledger()).append(&lines)?;
    }
    Ok(disk.sync_all(draft)?)
}

/// Tells every device that the numbering has changed under it.
async fn new_epoch(folder: &DataFolder) -> Result<(), RestoreError> {
    let world: &dyn World = &RealWorld;
    let store = folder.open_store().await.map_err(|_| RestoreError::NotABackup)?;
    let changed = async {
        let mut tx = store.begin(TxMode::Write).await?;
        let mut counter = tx.counter().await?;
        counter.epoch = world.uuid();
        tx.set_counter(&counter).await?;
        tx.commit().await
    };
    let changed = changed.await;
    store.close().await;
    changed.map_err(Error::from)?;
    // Only the file itself is put into place.
    if beside(&folder.database(), "-wal").exists() {
        return Err(io::Error::other("the restored database could not be closed").into());
    }
    Ok(())
}

/// Whether a restore was cut off in step 3, so that [`settle`] has to be called.
///
/// # Errors
/// When the folder cannot be read.
pub fn is_ready(data: &DataFolder) -> io::Result<bool> {
    Ok(!data.named(READY)?.is_empty())
}

/// Puts into place what a restore has made ready and not put there, and clears away what one has left half unpacked
/// beside a shop. Only for whoever has the folder's lock. Whether there was anything to put into place.
///
/// # Errors
/// When the folder cannot be read or changed; to be tried again.
pub fn settle(data: &DataFolder, disk: &Disk) -> io::Result<bool> {
    let ready = data.named(READY)?;
    for ready in &ready {
        put_into_place(data, ready, disk)?;
    }
    // Without a shop they are the sign that there is to be one: see `left_behind`.
    if !data.is_empty() {
        clear_drafts(data, disk)?;
    }
    Ok(!ready.is_empty())
}

/// Clears away what restores have left half unpacked. Only for whoever has the folder's lock.
fn clear_drafts(data: &DataFolder, disk: &Disk) -> io::Result<()> {
    data.named(DRAFT)?
        .iter()
        .try_for_each(|draft| disk.remove_folder(draft))
}

/// Step 3. Done again from any point it is the same.
fn put_into_place(data: &DataFolder, ready: &Path, disk: &Disk) -> io::Result<()> {
    let from = DataFolder::at(ready)?;
    adopt(&from, data, disk)?;
    if !from.is_empty() {
        merge(&from.photos(), &data.photos(), disk)?;
        // One name for all that is put aside, also when this is done in two goes.
        let name = ready.file_name().unwrap_or_default().to_string_lossy();
        let when = name.trim_start_matches(READY);
        let aside = beside(&data.database(), &format!("{ASIDE}{when}"));
        for suffix in ["", "-wal", "-shm"] {
            let old = beside(&data.database(), suffix);
            if old.exists() {
                disk.rename(&old, &beside(&aside, suffix))?;
            }
        }
        // The log of the old database must never be found beside the new one.
        disk.sync(data.root())?;
        disk.rename(&from.database(), &data.database())?;
        disk.sync(data.root())?;
    }
    disk.remove_folder(ready)?;
    disk.sync(data.root())
}

/// Adds to the data folder's ledger what it does not have yet of the restored one.
fn adopt(from: &DataFolder, data: &DataFolder, disk: &Disk) -> io::Result<()> {
    let ledger = FileLedger::new(&data.ledger());
    let known = ledger.lines()?;
    let mut lines = FileLedger::new(&from.ledger()).lines()?;
    lines.retain(|line| !known.contains(line));
    if lines.is_empty() {
        return Ok(());
    }
    disk.tell(&data.ledger())?;
    ledger.append(&lines)
}

/// Moves photographs to their places. Those there now stay, since each is named by its own content.
fn merge(from: &Path, to: &Path, disk: &Disk) -> io::Result<()> {
    let entries = match fs::read_dir(from) {
        Ok(entries) => entries,
        Err(error) if error.kind() == io::ErrorKind::NotFound => return Ok(()),
        Err(error) => return Err(error),
    };
    disk.create_folder(to)?;
    for entry in entries {
        let entry = entry?;
        let place = to.join(entry.file_name());
        if entry.file_type()?.is_dir() {
            merge(&entry.path(), &place, disk)?;
        } else {
            disk.rename(&entry.path(), &place)?;
        }
    }
    disk.sync(to)
}

/// The name of what belongs to a file, or of one beside it.
fn beside(file: &Path, suffix: &str) -> PathBuf {
    let mut name = file.as_os_str().to_owned();
    name.push(suffix);
    name.into()
}

/// What a restore has left in a data folder without a shop.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Left {
    /// A backup that is not wholly unpacked.
    Half,
    /// A database that was put aside.
    Aside(PathBuf),
}

/// What a restore, one of an earlier version too, has left in a folder in which there is no shop: whoever would begin a
/// new one there must not.
///
/// # Errors
/// When the folder cannot be read.
pub fn left_behind(data: &DataFolder) -> io::Result<Option<Left>> {
    if !data.is_empty() {
        return Ok(None);
    }
    if !data.named(DRAFT)?.is_empty() {
        return Ok(Some(Left::Half));
    }
    let name = data.database();
    let name = name.file_name().unwrap_or_default().to_string_lossy();
    let aside = data.named(&format!("{name}{ASIDE}"))?;
    let database = |path: &PathBuf| {
        let name = path.to_string_lossy();
        !name.ends_with("-wal") && !name.ends_with("-shm")
    };
    // The youngest: their names end in the time.
    Ok(aside.into_iter().filter(database).max().map(Left::Aside))
}
