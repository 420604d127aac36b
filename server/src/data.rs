//! The data folder: where all files of one shop are.

use std::fs::{self, File, Metadata, Permissions, TryLockError};
use std::io;
use std::os::unix::fs::PermissionsExt;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use rustix::fs::Mode;

use crate::http::Home;
use crate::put_aside::{self, FolderLedger};
use server_core::error::Error;
use server_core::ledger::FileLedger;
use server_core::photos::PhotoFolder;
use server_core::shop::Shop;
use server_core::store::sqlite::SqliteStore;
use server_core::world::{RealWorld, World};

/// The file in which a running server notes its address.
const ADDRESS: &str = "address";

/// The permissions of folders and of files: everything for the user that runs the server, nothing for others.
const FOLDER: u32 = 0o700;
const FILE: u32 = 0o600;

/// Sets the umask, so that everything this process creates is readable by its own user alone: database, photographs,
/// ledger, backups, and the files that libraries create beside them.
pub fn keep_private() {
    rustix::process::umask(Mode::from_raw_mode(!FOLDER & 0o777));
}

/// A data folder.
#[derive(Debug, Clone)]
pub struct DataFolder {
    root: PathBuf,
}

/// The lock of a data folder, kept while a server runs on it. Two servers on one folder would not see each other's
/// erasures.
#[derive(Debug)]
pub struct Lock {
    _file: File,
}

impl DataFolder {
    /// The folder at this path, created if it is not there.
    ///
    /// # Errors
    /// When it cannot be created.
    pub fn at(root: &Path) -> io::Result<Self> {
        fs::create_dir_all(root)?;
        Ok(Self {
            root: root.to_owned(),
        })
    }

    /// Removes the permissions that other users have on existing files, left by an earlier version or by copying.
    ///
    /// # Errors
    /// When something cannot be read, or its permissions cannot be changed.
    pub fn tighten(&self) -> io::Result<()> {
        tighten(&self.root)?;
        // The photo folder may be a link to a larger disk. The walk does not follow links.
        match self.photos().is_symlink() {
            true => tighten(&self.photos()),
            false => Ok(()),
        }
    }

    /// The folder itself.
    pub fn root(&self) -> &Path {
        &self.root
    }

    /// The paths in it whose names begin with `beginning`, sorted.
    ///
    /// # Errors
    /// When it cannot be read.
    pub(crate) fn named(&self, beginning: &str) -> io::Result<Vec<PathBuf>> {
        put_aside::named(&self.root, beginning)
    }

    /// The database file.
    pub fn database(&self) -> PathBuf {
        self.root.join("waxend.db")
    }

    /// The folder of photographs and voice notes.
    pub fn photos(&self) -> PathBuf {
        self.root.join("photos")
    }

    /// The erasure ledger. It is left out of backups on purpose.
    pub fn ledger(&self) -> PathBuf {
        self.root.join("erased.jsonl")
    }

    /// Notes the address of the server that runs on the folder, for `waxend join`.
    ///
    /// # Errors
    /// When it cannot be written.
    pub fn note_address(&self, url: &str) -> io::Result<()> {
        fs::write(self.root.join(ADDRESS), url)
    }

    /// The address of the last server on the folder; `None` before the first.
    pub fn address(&self) -> Option<String> {
        let noted = fs::read_to_string(self.root.join(ADDRESS)).ok()?;
        Some(noted.trim().to_owned()).filter(|url| !url.is_empty())
    }

    /// Whether the folder has no shop yet.
    pub fn is_empty(&self) -> bool {
        !self.database().exists()
    }

    /// Takes the folder's lock.
    ///
    /// # Errors
    /// `ResourceBusy` when another process has it.
    pub fn lock(&self) -> io::Result<Lock> {
        let file = File::create(self.root.join("lock"))?;
        match file.try_lock() {
            Ok(()) => Ok(Lock { _file: file }),
            Err(TryLockError::WouldBlock) => Err(io::ErrorKind::ResourceBusy.into()),
            Err(TryLockError::Error(error)) => Err(error),
        }
    }

    /// Opens the database only.
    ///
    /// # Errors
    /// When it cannot be opened.
    pub async fn open_store(&self) -> Result<SqliteStore, Error> {
        let world: &dyn World = &RealWorld;
        Ok(SqliteStore::open(&self.database(), world.uuid(), world.uuid()).await?)
    }

    /// Opens the shop, creating one if the folder is empty. If the ledger is missing, a new one gets what the database
    /// knows.
    ///
    /// # Errors
    /// When the database, the ledger or the photo folder cannot be opened.
    pub async fn open(&self) -> Result<Home, Error> {
        if !self.is_empty() && !self.ledger().exists() {
            tracing::warn!("the erasure ledger is missing; a new one gets what the database knows");
        }
        FileLedger::new(&self.ledger()).create()?;
        let store = self.open_store().await?;
        let photos = PhotoFolder::open(&self.photos()).await?;
        Shop::open(
            store,
            photos,
            Arc::new(RealWorld),
            Arc::new(FolderLedger::new(&self.root, &self.ledger())),
        )
        .await
    }
}

/// Sets the permissions of a folder and of everything below it that other users can reach.
fn tighten(folder: &Path) -> io::Result<()> {
    allow(folder, &fs::metadata(folder)?, FOLDER)?;
    for entry in fs::read_dir(folder)? {
        let entry = entry?;
        let kind = entry.file_type()?;
        if kind.is_dir() {
            tighten(&entry.path())?;
        } else if kind.is_file() {
            allow(&entry.path(), &entry.metadata()?, FILE)?;
        }
    }
    Ok(())
}

fn allow(path: &Path, now: &Metadata, mode: u32) -> io::Result<()> {
    if now.permissions().mode() & 0o777 == mode {
        return Ok(());
    }
    fs::set_permissions(path, Permissions::from_mode(mode))
}
