//! `waxend check`: reads all that is stored and reports what is wrong with it.

use sha2::{Digest as _, Sha256};
use tokio::io::AsyncReadExt;

use super::Shop;
use crate::error::Error;
use crate::photos::Photos;
use crate::store::{BlobHash, BlobRow, BlobTx, LogTx, Store, TxMode};

/// The result of a check.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct CheckReport {
    /// Entries read.
    pub entries: u64,
    /// Blobs read.
    pub blobs: u64,
    /// Blobs that entries name and whose bytes no device has sent yet. They are no fault.
    pub awaited: Vec<BlobHash>,
    /// The faults, one sentence each.
    pub wrong: Vec<String>,
}

impl<S: Store, P: Photos> Shop<S, P> {
    /// Checks that the numbering has no holes, that the counts agree, that every blank entry has an erasure, and that
    /// every photograph is present and intact.
    ///
    /// # Errors
    /// When the database or the photo folder cannot be read at all.
    pub async fn check(&self) -> Result<CheckReport, Error> {
        let mut checked = CheckReport::default();
        let mut tx = self.begin(TxMode::Read).await?;
        let counter = tx.counter().await?;
        let numbers = tx.feed_count().await?;
        if numbers != counter.seq {
            checked.wrong.push(format!(
                "the counter stands at {} and {numbers} numbers are there",
                counter.seq
            ));
        }
        checked.entries = tx.entry_count().await?;
        let blobs = tx.all_blobs().await?;
        let named = tx.all_named().await?;
        let blank = tx.blank_entries().await?;
        drop(tx);
        let erasures = self.erasures();
        let unexplained = blank
            .iter()
            .filter(|held| erasures.leaves_unexplained(&held.entry))
            .count();
        if unexplained > 0 {
            checked.wrong.push(format!(
                "{unexplained} entries are empty and nothing erased them; a device that holds them brings them again when \
                 it reads everything again"
            ));
        }
        let here = |hash: &BlobHash| blobs.binary_search_by_key(hash, |row| row.hash).is_ok();
        checked.awaited = named
            .into_iter()
            .filter(|hash| !here(hash) && !erasures.covers_blob(&hash.to_string()))
            .collect();
        for row in &blobs {
            checked.blobs += 1;
            checked.wrong.extend(self.check_blob(row).await?);
        }
        Ok(checked)
    }

    /// The fault of a blob, if it has one.
    async fn check_blob(&self, row: &BlobRow) -> Result<Option<String>, Error> {
        let hash = row.hash;
        if self.erasures().covers_blob(&hash.to_string()) {
            return Ok(Some(format!(
                "photograph {hash} is erased and still noted as here"
            )));
        }
        let Some(mut reader) = self.photos.open(&hash).await? else {
            return Ok(Some(format!(
                "photograph {hash} is missing; a device that has it will bring it again"
            )));
        };
        let mut hasher = Sha256::new();
        let mut buffer = vec![0; 64 * 1024];
        loop {
            let read = reader.read(&mut buffer).await?;
            if read == 0 {
                break;
            }
            hasher.update(&buffer[..read]);
        }
        let intact = BlobHash(hasher.finalize().into()) == hash;
        Ok((!intact).then(|| format!("photograph {hash} is damaged")))
    }
}
