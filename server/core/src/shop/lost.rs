//! Finds photographs that are missing from the photo folder, so that devices that still have them are asked for them.

use super::Shop;
use crate::error::Error;
use crate::photos::Photos;
use crate::store::{BlobTx, Store, StoreTx, TxMode};

impl<S: Store, P: Photos> Shop<S, P> {
    /// Compares the blobs that the database lists with the files in the photo folder, and marks those that are missing
    /// or of another length as awaited. This happens when a database is restored without its photographs, or files are
    /// lost. It looks only at lengths; `waxend check` reads the bytes. Returns how many were missing.
    ///
    /// # Errors
    /// When the database or the photo folder cannot be read.
    pub async fn miss_lost_photos(&self) -> Result<usize, Error> {
        let mut tx = self.begin(TxMode::Read).await?;
        let rows = tx.all_blobs().await?;
        drop(tx);
        let mut lost = Vec::new();
        for row in rows {
            if self.photos.length(&row.hash).await? != Some(row.bytes) {
                lost.push(row.hash);
            }
        }
        if lost.is_empty() {
            return Ok(0);
        }
        let mut tx = self.begin(TxMode::Write).await?;
        for hash in &lost {
            tx.miss_blob(hash).await?;
        }
        tx.commit().await?;
        Ok(lost.len())
    }
}
