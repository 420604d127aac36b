//! Accepting pushed entries: a batch is read ([`read_push`]), what is stored of it is looked up, a pure function
//! decides about it (`decide`), the decision is written, and only after the commit the batch is answered.

mod decide;
mod named;
mod reading;

use std::collections::{BTreeSet, HashMap, HashSet};

use shared::log::{Body, Erasures, ReceivedEntry, SubjectId};
use shared::sync::Problem;
use shared::sync::messages::PushAnswer;

pub(super) use decide::secret;
pub(super) use named::blobs;
pub use reading::{Batch, read_push};

use super::Shop;
use super::pull::{here, verified};
use crate::error::Error;
use crate::ledger::LedgerLine;
use crate::photos::Photos;
use crate::store::{BlobHash, LogTx, Store, StoreTx, TxMode};
use decide::{BatchContext, Decision};

impl<S: Store, P: Photos> Shop<S, P> {
    /// Accepts a batch of entries in their order. Entries that could not be read are in it as refusals. Returns one
    /// result per entry. Every accepted entry is durable then; on an error none of the batch is stored.
    ///
    /// # Errors
    /// [`Error::CursorLost`] when the server no longer has what the device last pushed; [`Error::DiskFull`],
    /// [`Error::Unavailable`], or a failure of the database or the ledger.
    pub async fn push(&self, batch: Batch) -> Result<PushAnswer, Error> {
        let Batch {
            entries: batch,
            pushed,
        } = batch;
        let mut tx = self.begin(TxMode::Write).await?;
        let counter = tx.counter().await?;
        if let Some(pushed) = pushed {
            verified(&mut tx, &counter, pushed).await?;
        }
        let before = here(&mut tx, &counter).await?;
        let known = self.look_up(&mut tx, &batch).await?;
        let mut decision = decide::decide(batch, known, &self.erasures(), &*self.world);
        let news = write(&mut tx, &mut decision).await?;
        // The ledger is written before the commit. An erasure that is in the ledger but was not committed is sent again
        // by the device; but one that is committed must never be missing in the ledger.
        if !news.is_empty() {
            self.book.note(&news)?;
            self.set_erasures(decision.erasures);
        }
        let at = here(&mut tx, &decision.counter).await?;
        tx.commit().await?;
        self.destroy_traces(&news).await?;
        Ok(PushAnswer {
            results: decision.results,
            before: Some(before),
            at,
        })
    }

    /// Deletes the bytes that committed erasures leave on the disk: photographs, and pages of the database.
    async fn destroy_traces(&self, news: &[LedgerLine]) -> Result<(), Error> {
        for hash in news.iter().filter_map(destroys) {
            self.photos.remove(&hash).await?;
        }
        if !news.is_empty() {
            self.store.scrub().await?;
        }
        Ok(())
    }

    /// Reads what the database has for a batch.
    async fn look_up(
        &self,
        tx: &mut S::Tx,
        batch: &[Result<ReceivedEntry, Problem>],
    ) -> Result<BatchContext, Error> {
        let entries = || batch.iter().flatten().map(|held| &held.entry);
        let ids: Vec<_> = entries().map(|entry| entry.id).collect();
        let subjects: BTreeSet<_> = entries().map(|entry| entry.subject.id).collect();
        let secrets: Vec<_> = entries().filter_map(secret).collect();
        let stored = tx.stored(&ids).await?;
        let counter = tx.counter().await?;
        let shops = if entries().any(decide::erases_subject) {
            let known = tx.shop_subjects().await?;
            known.into_iter().chain([SubjectId(counter.shop)]).collect()
        } else {
            HashSet::new()
        };
        Ok(BatchContext {
            now: self.world.now(),
            counter,
            shops,
            stored: stored
                .into_iter()
                .map(|stored| (stored.held.entry.id, stored))
                .collect(),
            subjects: tx.first_seqs(&subjects.into_iter().collect::<Vec<_>>()).await?,
            links: if secrets.is_empty() {
                HashMap::new()
            } else {
                tx.linked_pairs(&secrets).await?
            },
        })
    }
}

/// Writes a decision. Returns the lines that the ledger has to have before the commit.
async fn write<T: StoreTx>(tx: &mut T, decision: &mut Decision) -> Result<Vec<LedgerLine>, Error> {
    tx.insert(&decision.inserts).await?;
    for stored in &decision.changed {
        if let Some(received) = stored.held.received {
            tx.lower(stored.seq, received).await?;
        }
        if stored.held.entry.is_blank() {
            tx.blank(stored).await?;
        }
    }
    for entry in &decision.filled {
        if let Some(received) = entry.stored.held.received {
            tx.lower(entry.stored.seq, received).await?;
        }
        tx.fill(entry).await?;
    }
    tx.number(&decision.feed).await?;
    for (secret, pair) in &decision.links {
        tx.link(secret, *pair).await?;
    }
    tx.set_counter(&decision.counter).await?;
    blank_stored(tx, decision).await?;
    news(tx, decision).await
}

/// Blanks the entries stored before this batch that its erasures cover.
async fn blank_stored<T: StoreTx>(tx: &mut T, decision: &mut Decision) -> Result<(), Error> {
    for erased in &decision.erased {
        for stored in tx.on(&[erased.entry.subject.id]).await? {
            if !stored.held.entry.is_blank() && decision.erasures.covers(&stored.held.entry) {
                decision.orphans.extend(blobs(&stored.held.entry));
                tx.blank(&stored).await?;
            }
        }
    }
    Ok(())
}

/// The new lines for the ledger: the erasures, and those blobs that only blanked entries named. The rows of these blobs
/// are removed here; their bytes are deleted after the commit.
async fn news<T: StoreTx>(tx: &mut T, decision: &mut Decision) -> Result<Vec<LedgerLine>, Error> {
    let mut lines = Vec::new();
    for hash in std::mem::take(&mut decision.orphans) {
        if tx.naming(&hash).await?.is_empty() && decision.erasures.blobs.insert(hash.to_string()) {
            lines.push(LedgerLine::Blob(hash.to_string()));
        }
    }
    lines.extend(
        decision
            .erased
            .iter()
            .cloned()
            .map(|held| LedgerLine::Erased(Box::new(held))),
    );
    for hash in lines.iter().filter_map(destroys) {
        tx.remove_blob(&hash).await?;
    }
    Ok(lines)
}

/// The blob that a line of the ledger destroys, if it does.
fn destroys(line: &LedgerLine) -> Option<BlobHash> {
    match line {
        LedgerLine::Blob(hash) => hash.parse().ok(),
        LedgerLine::Erased(held) => match Body::of(&held.entry) {
            Body::Erased(erased) => erased.blob?.parse().ok(),
            _ => None,
        },
        LedgerLine::Revoked(_) => None,
    }
}

/// Whether an erasure adds anything to these, to which it is then added.
fn is_news(erasures: &mut Erasures, held: &ReceivedEntry) -> bool {
    erasures.note(&held.entry)
}
