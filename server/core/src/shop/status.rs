//! Counts of what the server has.

use shared::sync::messages::Status;

use super::Shop;
use crate::error::Error;
use crate::photos::Photos;
use crate::store::{BlobTx, LogTx, Store, TxMode};

/// The results of the test writes.
#[derive(Debug)]
pub struct Tried {
    /// Of the database.
    pub database: Result<(), Error>,
    /// Of the photo folder.
    pub photos: Result<(), Error>,
}

impl<S: Store, P: Photos> Shop<S, P> {
    /// Tries a write to the database and one to the photo folder. Neither changes what is stored.
    pub async fn try_writes(&self) -> Tried {
        let (database, photos) = tokio::join!(self.store.try_write(), self.photos.try_write());
        Tried {
            database: database.map_err(Error::from),
            photos: photos.map_err(Error::from),
        }
    }

    /// Whether the shop has so many entries or more.
    ///
    /// # Errors
    /// A failure of the database.
    pub async fn has_entries(&self, most: u64) -> Result<bool, Error> {
        let mut tx = self.begin(TxMode::Read).await?;
        // Each entry has a number, and some have several: far from the limit, nothing need be counted.
        Ok(tx.counter().await?.seq >= most && tx.entry_count().await? >= most)
    }

    /// How many bytes the stored photographs and voice notes have.
    ///
    /// # Errors
    /// A failure of the database.
    pub async fn photo_bytes(&self) -> Result<u64, Error> {
        Ok(self.begin(TxMode::Read).await?.blob_bytes().await?)
    }

    /// Counts of what the server has.
    ///
    /// # Errors
    /// A failure of the database.
    pub async fn status(&self) -> Result<Status, Error> {
        let mut tx = self.begin(TxMode::Read).await?;
        Ok(Status {
            shop: tx.counter().await?.shop,
            entries: tx.entry_count().await?,
            blobs: tx.blob_count().await?,
            now: self.world.now(),
            version: env!("CARGO_PKG_VERSION").to_owned(),
        })
    }
}
