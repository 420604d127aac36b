//! `waxend check`: reads all that is stored and reports what is wrong with it.

mod compare;

use std::collections::BTreeSet;

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
    /// Runs the database's own check, reads every entry, compares what is derived from the entries with them, and reads
    /// every photograph.
    ///
    /// # Errors
    /// When the database or the photo folder cannot be read at all.
    pub async fn check(&self) -> Result<CheckReport, Error> {
        let mut report = CheckReport {
            wrong: self.store.faults().await?,
            ..CheckReport::default()
        };
        let blobs = match self.check_database(&mut report).await {
            Ok(blobs) => blobs,
            // Where the database is damaged, reading it can fail.
            Err(Error::Store(error)) => {
                report
                    .wrong
                    .push(format!("the database cannot be read to its end: {error}"));
                Vec::new()
            }
            Err(error) => return Err(error),
        };
        for row in &blobs {
            report.blobs += 1;
            report.wrong.extend(self.check_blob(row).await?);
        }
        Ok(report)
    }

    /// Checks all that the database has. Returns the blobs that it lists.
    async fn check_database(&self, report: &mut CheckReport) -> Result<Vec<BlobRow>, Error> {
        let mut tx = self.begin(TxMode::Read).await?;
        report.entries = tx.entry_count().await?;
        report.wrong.extend(compare::faults(&mut tx).await?);
        let blobs = tx.all_blobs().await?;
        let named = tx.all_named().await?;
        let asked: BTreeSet<_> = tx.awaited(usize::MAX).await?.into_iter().collect();
        let blank = tx.blank_entries().await?;
        drop(tx);
        let erasures = self.erasures();
        let unexplained = blank
            .iter()
            .filter(|held| erasures.leaves_unexplained(&held.entry))
            .count();
        if unexplained > 0 {
            report.wrong.push(format!(
                "{unexplained} entries are empty and nothing erased them; a device that holds them brings them again when \
                 it reads everything again"
            ));
        }
        let here = |hash: &BlobHash| blobs.binary_search_by_key(hash, |row| row.hash).is_ok();
        report.awaited = named
            .into_iter()
            .filter(|hash| !here(hash) && !erasures.covers_blob(&hash.to_string()))
            .collect();
        let forgotten = report.awaited.iter().filter(|hash| !asked.contains(hash)).count();
        if forgotten > 0 {
            report.wrong.push(format!(
                "photographs that have not arrived and that no device is asked for: {forgotten}"
            ));
        }
        Ok(blobs)
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
        let mut bytes = 0;
        let mut buffer = vec![0; 64 * 1024];
        loop {
            let read = reader.read(&mut buffer).await?;
            if read == 0 {
                break;
            }
            bytes += read as u64;
            hasher.update(&buffer[..read]);
        }
        if BlobHash(hasher.finalize().into()) != hash {
            return Ok(Some(format!("photograph {hash} is damaged")));
        }
        let wrong = (bytes != row.bytes).then(|| {
            format!(
                "photograph {hash} is intact and noted with another length: {}",
                row.bytes
            )
        });
        Ok(wrong)
    }
}
