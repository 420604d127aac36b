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
