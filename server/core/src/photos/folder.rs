//! The photographs in a folder, as `ab/cd/<hash>`. A file counts as stored when it and every folder on its path are
//! durable.

use std::io::{self, ErrorKind};
use std::path::{Path, PathBuf};
use std::sync::Arc;

use tokio::fs::{self, File};
use tokio::io::AsyncWriteExt;
use uuid::Uuid;

use super::{PhotoDraft, Photos};
use crate::store::BlobHash;

/// The folder of drafts, below the root.
const INCOMING: &str = "incoming";
/// Bytes of a test write, about as many as a thumbnail has.
const TRIED: usize = 32 * 1024;

/// A photo folder.
#[derive(Debug, Clone)]
pub struct PhotoFolder {
    root: Arc<Path>,
}

/// A file in the folder of drafts. Dropping it removes the file unless it was kept.
#[derive(Debug)]
pub struct FileDraft {
    root: Arc<Path>,
    path: PathBuf,
    file: File,
}

impl PhotoFolder {
    /// Opens the folder, creating it if it is not there.
    ///
    /// # Errors
    /// When the folder cannot be created.
    pub async fn open(root: &Path) -> io::Result<Self> {
        fs::create_dir_all(root.join(INCOMING)).await?;
        Ok(Self { root: root.into() })
    }

    /// Removes drafts that a crash has left. No other process may be writing in the folder.
    ///
    /// # Errors
    /// When the folder cannot be read or a draft cannot be removed.
    pub async fn clear_drafts(&self) -> io::Result<()> {
        let mut left = fs::read_dir(self.root.join(INCOMING)).await?;
        while let Some(entry) = left.next_entry().await? {
            fs::remove_file(entry.path()).await?;
        }
        Ok(())
    }

    /// The path of the file with this hash.
    pub fn path(&self, hash: &BlobHash) -> PathBuf {
        place(&self.root, hash)
    }
}

impl FileDraft {
    /// Makes the draft's content durable.
    async fn finish(&mut self) -> io::Result<()> {
        self.file.flush().await?;
        self.file.sync_all().await
    }
}

impl Photos for PhotoFolder {
    type Draft = FileDraft;
    type Reader = File;

    async fn draft(&self) -> io::Result<FileDraft> {
        let path = self.root.join(INCOMING).join(Uuid::new_v4().to_string());
        let file = File::create_new(&path).await?;
        Ok(FileDraft {
            root: self.root.clone(),
            path,
            file,
        })
    }

    async fn length(&self, hash: &BlobHash) -> io::Result<Option<u64>> {
        found(fs::metadata(self.path(hash)).await).map(|meta| meta.map(|m| m.len()))
    }

    async fn open(&self, hash: &BlobHash) -> io::Result<Option<File>> {
        found(File::open(self.path(hash)).await)
    }

    async fn remove(&self, hash: &BlobHash) -> io::Result<()> {
        let path = self.path(hash);
        match (found(fs::remove_file(&path).await)?, path.parent()) {
            (Some(()), Some(folder)) => sync(folder).await,
            _ => Ok(()),
        }
    }

    async fn try_write(&self) -> io::Result<()> {
        let mut draft = self.draft().await?;
        draft.write(&[0; TRIED]).await?;
        draft.finish().await
    }
}

impl PhotoDraft for FileDraft {
    async fn write(&mut self, bytes: &[u8]) -> io::Result<()> {
        self.file.write_all(bytes).await
    }

    async fn keep(mut self, hash: &BlobHash) -> io::Result<()> {
        self.finish().await?;
        let place = place(&self.root, hash);
        let (Some(second), Some(first)) = (place.parent(), place.parent().and_then(Path::parent)) else {
            return Err(ErrorKind::InvalidFilename.into());
        };
        fs::create_dir_all(second).await?;
        fs::rename(&self.path, &place).await?;
        for folder in [second, first, &self.root] {
            sync(folder).await?;
        }
        Ok(())
    }
}

impl Drop for FileDraft {
    fn drop(&mut self) {
        // A draft that was kept has been renamed already. One that cannot be removed now is removed at the next start.
        let _ = std::fs::remove_file(&self.path);
    }
}

fn place(root: &Path, hash: &BlobHash) -> PathBuf {
    let name = hash.to_string();
    root.join(&name[..2]).join(&name[2..4]).join(name)
}

async fn sync(folder: &Path) -> io::Result<()> {
    File::open(folder).await?.sync_all().await
}

fn found<T>(result: io::Result<T>) -> io::Result<Option<T>> {
    match result {
        Ok(value) => Ok(Some(value)),
        Err(error) if error.kind() == ErrorKind::NotFound => Ok(None),
        Err(error) => Err(error),
    }
}
