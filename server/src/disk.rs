//! Changes to the file system that must be safe to interrupt at any point.

use std::fs::{self, File};
use std::io::{self, Read};
use std::path::Path;
use std::sync::Arc;

/// Called with the path of each change before it is made.
type Before = dyn Fn(&Path) -> io::Result<()> + Send + Sync;

/// Changes files and folders, and announces each change before it is made, so that a test can make any of them fail as
/// a power cut would.
#[derive(Clone)]
pub struct Disk {
    before: Arc<Before>,
}

impl Default for Disk {
    /// Announces the changes to nobody.
    fn default() -> Self {
        Self::telling(|_| Ok(()))
    }
}

impl Disk {
    /// Calls `before` with the path of each change. If it fails, the change fails with the same error and is not made.
    pub fn telling(before: impl Fn(&Path) -> io::Result<()> + Send + Sync + 'static) -> Self {
        Self {
            before: Arc::new(before),
        }
    }

    /// Announces a change that is made by other code.
    ///
    /// # Errors
    /// The error of the function that is called before each change.
    pub fn tell(&self, path: &Path) -> io::Result<()> {
        (self.before)(path)
    }

    /// Creates a folder and its missing parents.
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

    /// Creates a file with this content. Its content is durable when this returns, its name only after [`Disk::sync`].
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

    /// Renames a file or folder, replacing an existing file. A file from another file system is copied.
    ///
    /// # Errors
    /// As [`fs::rename`].
    pub fn rename(&self, from: &Path, to: &Path) -> io::Result<()> {
        self.tell(to)?;
        match fs::rename(from, to) {
            Err(error) if error.kind() == io::ErrorKind::CrossesDevices && from.is_file() => {
                copy_into_place(from, to)?;
                fs::remove_file(from)
            }
            done => done,
        }
    }

    /// Makes the names in a folder durable.
    ///
    /// # Errors
    /// As [`File::sync_all`].
    pub fn sync(&self, folder: &Path) -> io::Result<()> {
        self.tell(folder)?;
        File::open(folder)?.sync_all()
    }

    /// Makes the names in a folder and in all folders below it durable.
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

    /// Removes a file.
    ///
    /// # Errors
    /// As [`fs::remove_file`].
    pub fn remove_file(&self, path: &Path) -> io::Result<()> {
        self.tell(path)?;
        fs::remove_file(path)
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

/// Copies a file to a path beside its place and from there into its place. What lies there already, from an interrupted
/// copy or by chance, is removed first: written to, it could be a link to another file.
fn copy_into_place(from: &Path, to: &Path) -> io::Result<()> {
    let draft = to.with_added_extension("part");
    match fs::remove_file(&draft) {
        Err(error) if error.kind() != io::ErrorKind::NotFound => return Err(error),
        _ => {}
    }
    let mut file = File::create_new(&draft)?;
    io::copy(&mut File::open(from)?, &mut file)?;
    file.sync_all()?;
    fs::rename(&draft, to)
}

#[cfg(test)]
mod tests {
    use std::os::unix::fs::symlink;

    use super::*;

    #[test]
    fn a_copy_is_not_written_through_a_link_that_lies_in_its_way() {
        let folder = tempfile::tempdir().unwrap();
        let [from, to, draft, other] =
            ["from", "to", "to.part", "other"].map(|name| folder.path().join(name));
        fs::write(&from, b"new").unwrap();
        fs::write(&other, b"other").unwrap();
        symlink(&other, &draft).unwrap();
        copy_into_place(&from, &to).unwrap();
        assert_eq!(fs::read(&to).unwrap(), b"new");
        assert_eq!(fs::read(&other).unwrap(), b"other");
        assert!(!draft.is_symlink());
    }
}
