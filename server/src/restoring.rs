//! Restores a backup into a data folder. If that is interrupted at any step, for example by a power cut, the folder
//! holds either its former shop or the restored one, never a new one.
//!
//! 1. The backup is unpacked into a folder of its own (`restoring-…`), checked in every part, and given a new epoch. The
//!    former shop is untouched.
//! 2. That folder is renamed to `restored-…`. From then on the restored shop is the one that counts.
//! 3. Its parts are moved into place ([`settle`]): first the ledger's lines, so that nothing erased or revoked comes
//!    back; then the photographs, which are named by their content, where none that is intact stands there; then the
//!    database, after the former one was put aside. That one is deleted in the end, unless it is to be kept, or
//!    something in the restored one is wrong. If this is interrupted, the next command that opens the data folder
//!    finishes it.
//!
//! Files and folders are synced wherever the next step relies on them.

mod error;
mod ledgers;

use std::fs;
use std::io;
use std::path::{Path, PathBuf};

pub use error::RestoreError;

use crate::backup::{self, BackupForm};
use crate::data::DataFolder;
use crate::disk::Disk;
use crate::put_aside::{self, FolderLedger, REPLACED};
use server_core::error::Error;
use server_core::ledger::{ErasureLedger, FileLedger, LedgerLine};
use server_core::shop::disagreements;
use server_core::store::sqlite::SqliteStore;
use server_core::store::{LogTx, Store, StoreTx, TxMode};
use server_core::world::{RealWorld, World};

/// Prefix of the folder into which a backup is unpacked.
const DRAFT: &str = "restoring-";
/// Prefix of an unpacked folder whose parts are still to be moved into place.
const READY: &str = "restored-";
/// A file in an unpacked folder. It says that the database that is put aside is deleted in the end.
const FORGETS: &str = "forgets-replaced";
/// What is added to the name of a database for each of its files: itself, its write-ahead log, and the index of that.
const DATABASE_FILES: [&str; 3] = ["", "-wal", "-shm"];

/// How to restore.
#[derive(Debug, Clone, Copy, Default)]
pub struct RestoreOptions<'a> {
    /// Another ledger, whose lines are added to the data folder's own.
    pub ledger: Option<&'a Path>,
    /// Go on although a ledger is missing or damaged. Every device then has to join again.
    pub without_ledger: bool,
    /// Keep the database that is replaced.
    pub keep_replaced: bool,
}

/// What a restore has come to.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Restored {
    /// What is wrong in the restored database, as it was when it was backed up; one sentence each.
    pub wrong: Vec<String>,
    /// The photographs that are damaged in the backup, and whose intact files have stayed in the data folder.
    pub stayed: Vec<String>,
}

/// Restores a backup in the place of what is in the data folder. The caller has the folder's lock.
///
/// # Errors
/// [`RestoreError`]. If step 2 was not reached, nothing has changed; else [`settle`] finishes the restore.
pub async fn restore(
    data: &DataFolder,
    file: &Path,
    options: &RestoreOptions<'_>,
    disk: &Disk,
) -> Result<Restored, RestoreError> {
    let lines = ledgers::named_lines(data, options.ledger, options.without_ledger)?;
    let draft = data.root().join(format!("{DRAFT}{}", std::process::id()));
    clear_drafts(data, disk)?;
    disk.create_folder(&draft)?;
    let preparing = Preparing {
        data,
        draft: &draft,
        options,
        disk,
    };
    let restored = match preparing.prepare(file, lines).await {
        Ok(restored) => restored,
        Err(error) => {
            // What cannot be removed now is removed by the next restore.
            let _ = disk.remove_folder(&draft);
            return Err(error);
        }
    };
    let world: &dyn World = &RealWorld;
    let ready = data.root().join(format!("{READY}{}", world.now().0));
    disk.rename(&draft, &ready)?;
    disk.sync(data.root())?;
    settle(data, disk)?;
    Ok(restored)
}

/// Step 1.
struct Preparing<'a> {
    data: &'a DataFolder,
    draft: &'a Path,
    options: &'a RestoreOptions<'a>,
    disk: &'a Disk,
}

impl Preparing<'_> {
    /// Unpacks the backup, checks it, and gives it a new epoch. `lines` are those of a ledger that is named.
    async fn prepare(&self, file: &Path, mut lines: Vec<LedgerLine>) -> Result<Restored, RestoreError> {
        let photos = self.data.photos();
        let unpacked = backup::read_beside(file, self.draft, Some(&photos), self.disk)?;
        let folder = DataFolder::at(self.draft)?;
        if folder.is_empty() {
            return Err(RestoreError::NotABackup);
        }
        let erases = self.brings_erasures(&lines)?;
        let (wrong, voided) = self.finish_database(&folder, unpacked.form).await?;
        lines.extend(voided);
        FileLedger::new(&folder.ledger()).append(&lines)?;
        // Where the ledger that is named erases something, the replaced database has what is to be erased.
        let keeps = (self.options.keep_replaced || !wrong.is_empty()) && !erases;
        if !keeps {
            self.disk.write(&self.draft.join(FORGETS), &mut io::empty())?;
        }
        self.disk.sync_all(self.draft)?;
        Ok(Restored {
            wrong,
            stayed: unpacked.stay,
        })
    }

    /// Whether these lines erase anything that the data folder's own ledger does not.
    fn brings_erasures(&self, lines: &[LedgerLine]) -> io::Result<bool> {
        let own = FileLedger::new(&self.data.ledger()).lines()?;
        let mut erasures = lines.iter().filter(|line| put_aside::erases(line));
        Ok(erasures.any(|line| !own.contains(line)))
    }

    /// Checks the database and gives it a new epoch. Returns what is wrong in it, and lines for the ledger.
    async fn finish_database(
        &self,
        folder: &DataFolder,
        form: BackupForm,
    ) -> Result<(Vec<String>, Vec<LedgerLine>), RestoreError> {
        let store = folder.open_store().await.map_err(|error| match error {
            Error::DiskFull | Error::Unavailable => RestoreError::Shop(error),
            _ => RestoreError::NotABackup,
        })?;
        let finished = self.finish_store(&store, form).await;
        store.close().await;
        let finished = finished?;
        // Only the database file itself is moved into place, so all of its content must be in it.
        if beside(&folder.database(), "-wal").exists() {
            return Err(io::Error::other("the restored database could not be closed").into());
        }
        Ok(finished)
    }

    async fn finish_store(
        &self,
        store: &SqliteStore,
        form: BackupForm,
    ) -> Result<(Vec<String>, Vec<LedgerLine>), RestoreError> {
        let mut wrong = store.faults().await.map_err(Error::from)?;
        // The digest of a database of the second form shows that it is as it was backed up.
        if form == BackupForm::First && !wrong.is_empty() {
            return Err(RestoreError::Damaged(backup::DATABASE.to_owned()));
        }
        wrong.extend(disagreements(store).await?);
        let world: &dyn World = &RealWorld;
        let voided = match self.options.without_ledger {
            true => ledgers::void_tokens(store, world.now()).await?,
            false => Vec::new(),
        };
        new_epoch(store).await?;
        Ok((wrong, voided))
    }
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
    // The name is derived from the folder's, so that all files put aside get the same one even when this is repeated.
    let name = ready.file_name().unwrap_or_default().to_string_lossy();
    let aside = data
        .root()
        .join(format!("{REPLACED}{}", name.trim_start_matches(READY)));
    if !from.is_empty() {
        merge(&from.photos(), &data.photos(), disk)?;
        for suffix in DATABASE_FILES {
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
    if ready.join(FORGETS).exists() {
        forget(&aside, disk)?;
        disk.sync(data.root())?;
    }
    disk.remove_folder(ready)?;
    disk.sync(data.root())
}

/// Deletes a database that was put aside.
fn forget(aside: &Path, disk: &Disk) -> io::Result<()> {
    for suffix in DATABASE_FILES {
        let file = beside(aside, suffix);
        if file.exists() {
            disk.remove_file(&file)?;
        }
    }
    Ok(())
}

/// Adds those lines of the restored ledger to the data folder's ledger that it does not have yet, and creates that one
/// if it is not there.
fn adopt(from: &DataFolder, data: &DataFolder, disk: &Disk) -> io::Result<()> {
    let ledger = FileLedger::new(&data.ledger());
    let known = ledger.lines()?;
    let mut lines = FileLedger::new(&from.ledger()).lines()?;
    lines.retain(|line| !known.contains(line));
    if lines.is_empty() && data.ledger().exists() {
        return Ok(());
    }
    disk.tell(&data.ledger())?;
    ledger.create()?;
    FolderLedger::new(data.root(), &data.ledger()).append(&lines)
}

/// Moves photographs into place. One that stands there and is intact stays: what was unpacked was intact too, but a file
/// may be damaged at any time.
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
        } else if !matches!(backup::intact(&place), Ok(Some(_))) {
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
    // The latest one: the names end in the time at which they were put aside.
    Ok(put_aside::replaced(data.root())?.pop().map(Left::Aside))
}
