//! Storing and reading the bytes of photographs and voice notes.

use bytes::Bytes;
use futures_util::{Stream, StreamExt};
use sha2::{Digest as _, Sha256};
use shared::sync::messages::MAX_BLOB;

use super::Shop;
use crate::error::Error;
use crate::photos::{self, ExifSearch, PhotoDraft, Photos};
use crate::store::{BlobHash, BlobRow, BlobTx, Store, StoreTx, TxMode};

/// How many of the first bytes are looked at to tell a file's type.
pub(super) const START: usize = 16;

/// The result of storing bytes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Put {
    /// They were not stored before.
    New,
    /// They were stored already.
    Here,
}

/// What was received: the number of bytes, their SHA-256, the first of them, and whether EXIF is among them.
struct Arrived {
    bytes: u64,
    hash: BlobHash,
    start: Vec<u8>,
    has_exif: bool,
}

impl<S: Store, P: Photos> Shop<S, P> {
    /// Stores the bytes of a blob durably. Bytes that are stored already are written again, which also repairs a
    /// damaged file. `name` is their SHA-256 in hex. A new picture must have no EXIF: the app has drawn every picture anew,
    /// and what is left out here would no longer have that SHA-256.
    ///
    /// # Errors
    /// [`Error::BadHash`], [`Error::MediaType`], [`Error::Empty`], [`Error::TooLarge`], [`Error::HashMismatch`],
    /// [`Error::HasExif`], [`Error::Erased`], [`Error::DiskFull`], an error of the stream, or another failure of the disk.
    pub async fn put_blob(
        &self,
        name: &str,
        media_type: &str,
        body: impl Stream<Item = Result<Bytes, Error>> + Send + Unpin,
    ) -> Result<Put, Error> {
        let hash: BlobHash = name.parse().map_err(|_| Error::BadHash)?;
        if !photos::is_kept(media_type) {
            return Err(Error::MediaType);
        }
        if self.erasures().covers_blob(name) {
            return Err(Error::Erased);
        }
        let mut draft = self.photos.draft().await?;
        let arrived = receive(&mut draft, ExifSearch::new(media_type), body).await?;
        if arrived.bytes == 0 {
            return Err(Error::Empty);
        }
        if arrived.hash != hash {
            return Err(Error::HashMismatch);
        }
        if !photos::agrees(media_type, &arrived.start) {
            return Err(Error::MediaType);
        }
        if arrived.has_exif && !self.is_listed(&hash).await? {
            return Err(Error::HasExif);
        }
        draft.keep(&hash).await?;
        let row = BlobRow {
            hash,
            media_type: media_type.to_owned(),
            bytes: arrived.bytes,
        };
        self.note_blob(&row).await
    }

    /// Whether the database lists a blob.
    async fn is_listed(&self, hash: &BlobHash) -> Result<bool, Error> {
        Ok(self.begin(TxMode::Read).await?.blob(hash).await?.is_some())
    }

    async fn note_blob(&self, row: &BlobRow) -> Result<Put, Error> {
        let mut tx = self.begin(TxMode::Write).await?;
        // Checked again: an erasure may have come while the bytes were received. Erasures are set only in write
        // transactions, so none can come now.
        if self.erasures().covers_blob(&row.hash.to_string()) {
            drop(tx);
            self.photos.remove(&row.hash).await?;
            return Err(Error::Erased);
        }
        if tx.blob(&row.hash).await?.is_some() {
            return Ok(Put::Here);
        }
        tx.add_blob(row).await?;
        tx.commit().await?;
        Ok(Put::New)
    }

    /// The row and the bytes of a blob. `name` is its SHA-256 in hex.
    ///
    /// # Errors
    /// [`Error::BadHash`], [`Error::Erased`], [`Error::NotFound`].
    pub async fn blob(&self, name: &str) -> Result<(BlobRow, P::Reader), Error> {
        let hash: BlobHash = name.parse().map_err(|_| Error::BadHash)?;
        if self.erasures().covers_blob(name) {
            return Err(Error::Erased);
        }
        let row = self
            .begin(TxMode::Read)
            .await?
            .blob(&hash)
            .await?
            .ok_or(Error::NotFound)?;
        let reader = self.photos.open(&hash).await?.ok_or(Error::NotFound)?;
        Ok((row, reader))
    }

    /// Deletes a blob's row and then its bytes.
    pub(super) async fn destroy(&self, hash: &BlobHash) -> Result<(), Error> {
        let mut tx = self.begin(TxMode::Write).await?;
        tx.remove_blob(hash).await?;
        tx.commit().await?;
        Ok(self.photos.remove(hash).await?)
    }
}

/// Writes a body into a draft and computes its hash.
async fn receive(
    draft: &mut impl PhotoDraft,
    mut exif: ExifSearch,
    mut body: impl Stream<Item = Result<Bytes, Error>> + Send + Unpin,
) -> Result<Arrived, Error> {
    let mut hasher = Sha256::new();
    let mut start = Vec::with_capacity(START);
    let mut bytes = 0;
    while let Some(chunk) = body.next().await {
        let chunk = chunk?;
        bytes += chunk.len();
        if bytes > MAX_BLOB {
            return Err(Error::TooLarge);
        }
        start.extend(chunk.iter().take(START - start.len()));
        exif.take(&chunk);
        hasher.update(&chunk);
        draft.write(&chunk).await?;
    }
    Ok(Arrived {
        bytes: bytes as u64,
        hash: BlobHash(hasher.finalize().into()),
        start,
        has_exif: exif.found(),
    })
}
