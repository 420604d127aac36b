//! Storage of the bytes of photographs and voice notes.

mod exif;
mod folder;
mod kind;

use std::future::Future;
use std::io;

use tokio::io::AsyncRead;

pub use exif::ExifSearch;
pub use folder::PhotoFolder;
pub use kind::{agrees, is_kept};

use crate::store::BlobHash;

/// A file that is being received. Dropping it discards its bytes.
pub trait PhotoDraft: Send {
    /// Appends bytes.
    fn write(&mut self, bytes: &[u8]) -> impl Future<Output = io::Result<()>> + Send;

    /// Stores the draft durably under this hash, replacing what is stored there.
    fn keep(self, hash: &BlobHash) -> impl Future<Output = io::Result<()>> + Send;
}

/// Storage of bytes by their SHA-256. An error of kind `StorageFull` must mean that the disk is full.
pub trait Photos: Clone + Send + Sync + 'static {
    /// A file that is being received.
    type Draft: PhotoDraft;
    /// A reader of a stored file.
    type Reader: AsyncRead + Send + Unpin + 'static;

    /// Begins a new file.
    fn draft(&self) -> impl Future<Output = io::Result<Self::Draft>> + Send;

    /// The length in bytes of what is stored under this hash; `None` if nothing is.
    fn length(&self, hash: &BlobHash) -> impl Future<Output = io::Result<Option<u64>>> + Send;

    /// Opens what is stored under this hash; `None` if nothing is.
    fn open(&self, hash: &BlobHash) -> impl Future<Output = io::Result<Option<Self::Reader>>> + Send;

    /// Deletes what is stored under this hash, if anything.
    fn remove(&self, hash: &BlobHash) -> impl Future<Output = io::Result<()>> + Send;

    /// Writes some bytes durably and deletes them again, to find out whether a write works now.
    fn try_write(&self) -> impl Future<Output = io::Result<()>> + Send;
}
