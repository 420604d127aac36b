//! Where the bytes of photographs and voice notes are kept.

mod folder;
mod kind;

use std::future::Future;
use std::io;

use tokio::io::AsyncRead;

pub use folder::PhotoFolder;
pub use kind::{agrees, is_kept};

use crate::store::BlobHash;

/// Bytes on their way into the keep. Dropping a draft throws it away.
pub trait PhotoDraft: Send {
    /// Appends bytes.
    fn write(&mut self, bytes: &[u8]) -> impl Future<Output = io::Result<()>> + Send;

    /// Puts the draft in its place, durably, replacing what may be there.
    fn keep(self, hash: &BlobHash) -> impl Future<Output = io::Result<()>> + Send;
}

/// A keep of bytes by their hash. Errors of kind `StorageFull` mean what they say.
pub trait Photos: Clone + Send + Sync + 'static {
    /// Its drafts.
    type Draft: PhotoDraft;
    /// Its readers.
    type Reader: AsyncRead + Send + Unpin + 'static;

    /// Begins a draft.
    fn draft(&self) -> impl Future<Output = io::Result<Self::Draft>> + Send;

    /// The length of what is kept under this hash.
    fn length(&self, hash: &BlobHash) -> impl Future<Output = io::Result<Option<u64>>> + Send;

    /// Opens what is kept under this hash.
    fn open(&self, hash: &BlobHash) -> impl Future<Output = io::Result<Option<Self::Reader>>> + Send;

    /// Destroys what is kept under this hash, if anything.
    fn remove(&self, hash: &BlobHash) -> impl Future<Output = io::Result<()>> + Send;

    /// Writes some bytes durably and throws them away, to see whether a write works now.
    fn try_write(&self) -> impl Future<Output = io::Result<()>> + Send;
}
