//! The keep as a folder: `ab/cd/<hash>`, each file and every folder on the way to it on disk before it counts.

use std::io::{self, ErrorKind};
use std::path::{Path, PathBuf};
use std::sync::Arc;

use tokio::fs::{self, File};
use tokio::io::AsyncWriteExt;
use uuid::Uuid;

use super::{PhotoDraft, Photos};
use crate::store::BlobHash;

/// Where drafts lie, under the root.
const INCOMING: &str = "incoming";
/// How many bytes are written to see whether that works: as many as a thumbnail has.
const TRIED: usize = 32 * 1024;

/// A photo folder.
#[derive(Debug, Clone)]
pub struct PhotoFolder {
    root: Arc<Path>,
}

/// A file among the drafts, removed again unless it is kept.
#[derive(Debug)]
pub struct FileDraft {
    root: Arc<Path>,
    path: PathBuf,
    file: File,
}

impl PhotoFolder {
    /// Opens the folder, making it if need be.
    ///
    /// # Errors
    /// When the folder cannot be made.
    pub async fn open(root: &Path) -> io::Result<Self> {
        fs::create_dir_all(root.join(INCOMING)).await?;
        Ok(Self { root: root.into() })
    }

    /// Clears away what a crash left half written. Only for whoever alone writes here.
    ///
    /// # Errors
    /// When the folder cannot be read or a draft not be removed.
    pub async fn clear_drafts(&self) -> io::Result<()> {
        let mut left = fs::read_dir(self.root.join(INCOMING)).await?;
        while let Some(entry) = left.next_entry().await? {
            fs::remove_file(entry.path()).await?;
        }
        Ok(())
    }

    /// Where the bytes of this hash stand.
    pub fn path(&self, hash: &BlobHash) -> PathBuf {
        place(&self.root, hash)
    }
}

impl FileDraft {
    /// Brings what was written to the disk.
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
        // Already renamed away when it was kept; what cannot be removed now goes at the next start.
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
