//! `waxend check`: reads all that is stored and reports what is wrong with it.

mod compare;
mod pages;
mod photographs;
mod repair;

use std::collections::BTreeSet;

use shared::log::ReceivedEntry;

pub use repair::{Mended, disagreements, mend_database};

use super::Shop;
use crate::error::Error;
use crate::photos::Photos;
use crate::store::{BlobHash, BlobRow, BlobTx, LogTx, Store, StoreTx, TxMode};

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
            report.wrong.extend(self.photograph_fault(row).await?);
        }
        Ok(report)
    }

    /// Checks all that the database has. Returns the blobs that it lists.
    async fn check_database(&self, report: &mut CheckReport) -> Result<Vec<BlobRow>, Error> {
        let mut tx = self.begin(TxMode::Read).await?;
        report.entries = tx.entry_count().await?;
        report.wrong.extend(compare::read(&mut tx).await?.told());
        let blobs = tx.all_blobs().await?;
        let named: BTreeSet<_> = tx.all_named().await?.into_iter().collect();
        let asked: BTreeSet<_> = tx.awaited(usize::MAX).await?.into_iter().collect();
        let blank = tx.blank_entries().await?;
        drop(tx);
        let erasures = self.erasures();
        let unexplained = self.unexplained(&blank);
        if unexplained > 0 {
            report.wrong.push(format!(
                "{unexplained} entries are empty and nothing erased them; a device that holds them brings them again when \
                 it reads everything again"
            ));
        }
        let here: BTreeSet<_> = blobs.iter().map(|row| row.hash).collect();
        let erased = |hash: &BlobHash| erasures.covers_blob(&hash.to_string());
        let awaited = named.difference(&here).copied();
        report.awaited = awaited.filter(|hash| !erased(hash)).collect();
        let forgotten = report.awaited.iter().filter(|hash| !asked.contains(hash)).count();
        if forgotten > 0 {
            report.wrong.push(format!(
                "photographs that have not arrived and that no device is asked for: {forgotten}"
            ));
        }
        let in_vain = asked
            .iter()
            .filter(|hash| !named.contains(hash) || here.contains(hash));
        let in_vain = in_vain.filter(|hash| !erased(hash)).count();
        if in_vain > 0 {
            report.wrong.push(format!(
                "photographs that devices are asked for in vain: {in_vain}"
            ));
        }
        Ok(blobs)
    }

    /// How many of these blank entries no erasure explains.
    fn unexplained(&self, blank: &[ReceivedEntry]) -> usize {
        let erasures = self.erasures();
        let unexplained = blank
            .iter()
            .filter(|held| erasures.leaves_unexplained(&held.entry));
        unexplained.count()
    }

    /// Mends what can be mended once it is known what was erased: has devices read everything again if entries are empty
    /// without an erasure, so that they bring the content; and see [`Shop::mend_photographs`]. Returns what was done, one
    /// sentence each.
    ///
    /// # Errors
    /// A failure of the database or of the photo folder.
    pub async fn mend_rest(&self) -> Result<Vec<String>, Error> {
        let mut done = Vec::new();
        let mut tx = self.begin(TxMode::Write).await?;
        let blank = tx.blank_entries().await?;
        if self.unexplained(&blank) > 0 {
            let mut counter = tx.counter().await?;
            counter.epoch = self.world.uuid();
            tx.set_counter(&counter).await?;
            done.push("devices are asked for the content of entries that are empty".to_owned());
        }
        tx.commit().await?;
        done.extend(self.mend_photographs().await?);
        Ok(done)
    }
}
