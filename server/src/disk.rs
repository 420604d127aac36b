//! Changes to the file system that must be survived half done.

use std::fs::{self, File};
use std::io::{self, Read};
use std::path::Path;
use std::sync::Arc;

/// What is told of each change before it is made.
type Before = dyn Fn(&Path) -> io::Result<()> + Send + Sync;

/// Changes files and folders, and says so before each change: a test stops it at any of them, as a power cut would.
#[derive(Clone)]
pub struct Disk {
    before: Arc<Before>,
}

impl Default for Disk {
    /// Tells nobody.
    fn default() -> Self {
        Self::telling(|_| Ok(()))
    }
}

impl Disk {
    /// Tells `before` of each change; what it fails with is what the change fails with.
    pub fn telling(before: impl Fn(&Path) -> io::Result<()> + Send + Sync + 'static) -> Self {
        Self {
            before: Arc::new(before),
        }
    }

    /// Tells of a change that somebody else makes.
    ///
    /// # Errors
    /// What it was told to fail with.
    pub fn tell(&self, path: &Path) -> io::Result<()> {
        (self.before)(path)
    }

    /// Makes a folder and those above it.
    ///
    /// # Errors
    /// As [`fs::create_dir_all`].
    pub fn create_folder(&self, path: &Path) -> io::Result<()> {
        if path.is_dir() {
            return Ok(());
        }
        self.tell(path)?;
        fs::create_dir_all(path)
    }

    /// Makes a file with this content; its bytes are on the disk when this returns, its name only after [`Disk::sync`].
    ///
    /// # Errors
    /// As [`File::create_new`] and [`io::copy`].
    pub fn write(&self, path: &Path, content: &mut impl Read) -> io::Result<()> {
        self.tell(path)?;
        let mut file = File::create_new(path)?;
        io::copy(content, &mut file)?;
        self.tell(path)?;
        file.sync_all()
    }

    /// Gives a file or folder another name, in the place of a file that may have it. From another file system it is
    /// copied first.
    ///
    /// # Errors
    /// As [`fs::rename`].
    pub fn rename(&self, from: &Path, to: &Path) -> io::Result<()> {
        self.tell(to)?;
        match fs::rename(from, to) {
            Err(error) if error.kind() == io::ErrorKind::CrossesDevices && from.is_file() => {
                let draft = to.with_added_extension("part");
                fs::copy(from, &draft)?;
                File::open(&draft)?.sync_all()?;
                fs::rename(&draft, to)?;
                fs::remove_file(from)
            }
            done => done,
        }
    }

    /// Brings the names in a folder to the disk.
    ///
    /// # Errors
    /// As [`File::sync_all`].
    pub fn sync(&self, folder: &Path) -> io::Result<()> {
        self.tell(folder)?;
        File::open(folder)?.sync_all()
    }

    /// Brings the names in a folder and in all below it to the disk.
    ///
    /// # Errors
    /// As [`Disk::sync`].
    pub fn sync_all(&self, folder: &Path) -> io::Result<()> {
        for entry in fs::read_dir(folder)? {
            let entry = entry?;
            if entry.file_type()?.is_dir() {
                self.sync_all(&entry.path())?;
            }
        }
        self.sync(folder)
    }

    /// Removes a folder with everything in it.
    ///
    /// # Errors
    /// As [`fs::remove_dir_all`].
    pub fn remove_folder(&self, path: &Path) -> io::Result<()> {
        self.tell(path)?;
        fs::remove_dir_all(path)
    }
}
