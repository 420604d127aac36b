//! What the server holds, in numbers.

use shared::sync::messages::Status;

use super::Shop;
use crate::error::Error;
use crate::photos::Photos;
use crate::store::{BlobTx, LogTx, Mode, Store};

impl<S: Store, P: Photos> Shop<S, P> {
    /// Whether the database answers.
    ///
    /// # Errors
    /// A failure of the database.
    pub async fn is_well(&self) -> Result<(), Error> {
        self.begin(Mode::Read).await?.counter().await?;
        Ok(())
    }

    /// What the server holds.
    ///
    /// # Errors
    /// A failure of the database.
    pub async fn status(&self) -> Result<Status, Error> {
        let mut tx = self.begin(Mode::Read).await?;
        Ok(Status {
            shop: tx.counter().await?.shop,
            entries: tx.entry_count().await?,
            blobs: tx.blob_count().await?,
            now: self.world.now(),
            version: env!("CARGO_PKG_VERSION").to_owned(),
        })
    }
}
