//! Restores a backup into a data folder. If that is interrupted at any step, for example by a power cut, the folder
//! holds either its former shop or the restored one, never a new one.
//!
//! 1. The backup is unpacked into a folder of its own (`restoring-…`), checked in every part, and given a new epoch. The
//!    former shop is untouched.
//! 2. That folder is renamed to `restored-…`. From then on the restored shop is the one that counts.
//! 3. Its parts are moved into place ([`settle`]): first the ledger's lines, so that nothing erased or revoked comes
//!    back; then the photographs, which are named by their content; then the database, after the former one was put
//!    aside. If this is interrupted, the next command that opens the data folder finishes it.
//!
//! Files and folders are synced wherever the next step relies on them.

use std::fs;
use std::io;
use std::path::{Path, PathBuf};

use crate::backup::{self, BackupForm, UnpackError};
use crate::data::DataFolder;
use crate::disk::Disk;
use server_core::error::Error;
use server_core::ledger::{ErasureLedger, FileLedger};
use server_core::store::sqlite::SqliteStore;
use server_core::store::{LogTx, Store, StoreTx, TxMode};
use server_core::world::{RealWorld, World};

/// Prefix of the folder into which a backup is unpacked.
const DRAFT: &str = "restoring-";
/// Prefix of an unpacked folder whose parts are still to be moved into place.
const READY: &str = "restored-";
/// Part of the name of a database that was put aside.
const ASIDE: &str = ".replaced-";

/// Why a backup was not restored.
#[derive(Debug, thiserror::Error)]
pub enum RestoreError {
    /// The file is not a complete Waxend backup; nothing was changed.
    #[error("not a complete Waxend backup")]
    NotABackup,
    /// This part of the backup is not what was backed up; nothing was changed.
    #[error("{0} in the backup is damaged")]
    Damaged(String),
    /// The data folder could not be changed.
    #[error(transparent)]
    Disk(#[from] io::Error),
    /// The database could not be changed.
    #[error(transparent)]
    Shop(#[from] Error),
}

impl From<UnpackError> for RestoreError {
    fn from(error: UnpackError) -> Self {
        match error {
            UnpackError::NotABackup => Self::NotABackup,
            UnpackError::Damaged(what) => Self::Damaged(what),
            UnpackError::Disk(error) => Self::Disk(error),
        }
    }
}

/// Restores a backup in the place of what is in the data folder, and adds the lines of another ledger (`ledger`) to its
/// own. The caller has the folder's lock.
///
/// # Errors
/// [`RestoreError`]. If step 2 was not reached, nothing has changed; else [`settle`] finishes the restore.
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
        // What cannot be removed now is removed by the next restore.
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

/// Step 1: unpacks the backup, checks it, and gives it a new epoch.
async fn prepare(draft: &Path, file: &Path, ledger: Option<&Path>, disk: &Disk) -> Result<(), RestoreError> {
    let form = backup::read(file, draft, disk)?;
    let folder = DataFolder::at(draft)?;
    if folder.is_empty() {
        return Err(RestoreError::NotABackup);
    }
    finish_database(&folder, form).await?;
    if let Some(ledger) = ledger {
        let lines = FileLedger::new(ledger).lines()?;
        FileLedger::new(&folder.ledger()).append(&lines)?;
    }
    Ok(disk.sync_all(draft)?)
}

/// Checks the database, if its digest was not in the backup, and gives it a new epoch.
async fn finish_database(folder: &DataFolder, form: BackupForm) -> Result<(), RestoreError> {
    let store = folder.open_store().await.map_err(|error| match error {
        Error::DiskFull | Error::Unavailable => RestoreError::Shop(error),
        _ => RestoreError::NotABackup,
    })?;
    let faults = match form {
        BackupForm::First => store.faults().await,
        BackupForm::Second => Ok(Vec::new()),
    };
    let finished = match faults {
        Ok(faults) if faults.is_empty() => new_epoch(&store).await.map_err(RestoreError::from),
        Ok(_) => Err(RestoreError::Damaged(backup::DATABASE.to_owned())),
        Err(error) => Err(Error::from(error).into()),
    };
    store.close().await;
    finished?;
    // Only the database file itself is moved into place, so all of its content must be in it.
    if beside(&folder.database(), "-wal").exists() {
        return Err(io::Error::other("the restored database could not be closed").into());
    }
    Ok(())
}

/// Gives the database a new epoch, from which devices see that their cursors no longer hold.
async fn new_epoch(store: &SqliteStore) -> Result<(), Error> {
    let world: &dyn World = &RealWorld;
    let mut tx = store.begin(TxMode::Write).await?;
    let mut counter = tx.counter().await?;
    counter.epoch = world.uuid();
    tx.set_counter(&counter).await?;
    Ok(tx.commit().await?)
}

/// Whether a restore was interrupted in step 3, so that [`settle`] has to finish it.
///
/// # Errors
/// When the folder cannot be read.
pub fn is_ready(data: &DataFolder) -> io::Result<bool> {
    Ok(!data.named(READY)?.is_empty())
}

/// Finishes a restore that was interrupted in step 3, and removes incompletely unpacked backups if the folder has a
/// shop. The caller has the folder's lock. Returns whether there was a restore to finish.
///
/// # Errors
/// When the folder cannot be read or changed. It can be called again.
pub fn settle(data: &DataFolder, disk: &Disk) -> io::Result<bool> {
    let ready = data.named(READY)?;
    for ready in &ready {
        put_into_place(data, ready, disk)?;
    }
    // Without a shop they have to stay: they show that one is being restored, see `left_behind`.
    if !data.is_empty() {
        clear_drafts(data, disk)?;
    }
    Ok(!ready.is_empty())
}

/// Removes incompletely unpacked backups. The caller has the folder's lock.
fn clear_drafts(data: &DataFolder, disk: &Disk) -> io::Result<()> {
    data.named(DRAFT)?
        .iter()
        .try_for_each(|draft| disk.remove_folder(draft))
}

/// Step 3: moves the parts into place. After an interruption it can be repeated from the start.
fn put_into_place(data: &DataFolder, ready: &Path, disk: &Disk) -> io::Result<()> {
    let from = DataFolder::at(ready)?;
    adopt(&from, data, disk)?;
    if !from.is_empty() {
        merge(&from.photos(), &data.photos(), disk)?;
        // The name is derived from the folder's, so that all files put aside get the same one even when this is
        // repeated.
        let name = ready.file_name().unwrap_or_default().to_string_lossy();
        let when = name.trim_start_matches(READY);
        let aside = beside(&data.database(), &format!("{ASIDE}{when}"));
        for suffix in ["", "-wal", "-shm"] {
            let old = beside(&data.database(), suffix);
            if old.exists() {
                disk.rename(&old, &beside(&aside, suffix))?;
            }
        }
        // The write-ahead log of the former database must never be found beside the restored one.
        disk.sync(data.root())?;
        disk.rename(&from.database(), &data.database())?;
        disk.sync(data.root())?;
    }
    disk.remove_folder(ready)?;
    disk.sync(data.root())
}

/// Adds those lines of the restored ledger to the data folder's ledger that it does not have yet.
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

/// Moves photographs into place. Existing ones can be replaced, since a file is named by its content.
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

/// The path with this suffix added to its file name.
fn beside(file: &Path, suffix: &str) -> PathBuf {
    let mut name = file.as_os_str().to_owned();
    name.push(suffix);
    name.into()
}

/// What an interrupted restore has left in a data folder without a shop.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Left {
    /// A backup that was not unpacked completely.
    Half,
    /// A database that was put aside.
    Aside(PathBuf),
}

/// What an interrupted restore, also one by an earlier version, has left in a folder without a shop. No new shop may be
/// made in such a folder.
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
    // The latest one: the names end in the time at which they were put aside.
    Ok(aside.into_iter().filter(database).max().map(Left::Aside))
}
