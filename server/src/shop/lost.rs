//! Finding out that photographs have been lost, so that the devices that still hold them are asked for them.

use super::Shop;
use crate::error::Error;
use crate::photos::Photos;
use crate::store::{BlobTx, Store, StoreTx, TxMode};

impl<S: Store, P: Photos> Shop<S, P> {
    /// Compares what the database says is in the photo folder with what is there, and awaits again what is not:
    /// a database put back without its photographs, or a folder that has lost some. Only looks at lengths; `waxend
    /// check` reads the bytes. Returns how many were lost.
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
