//! Accepting pushed entries: a batch is read ([`read_push`]), what is stored of it is looked up (`look_up`), a pure
//! function decides about it (`decide`), the decision is written, and only after the commit the batch is answered.
//!
//! What a device may write is in `rights`; what it may not is kept `aside`. `day_limit` is how much is erased in a day.

mod aside;
mod day_limit;
mod decide;
mod look_up;
mod named;
mod reading;
mod refusals;
mod rights;

use std::collections::BTreeSet;

use shared::log::{Body, Erasures, ReceivedEntry, SubjectId, inserted};
use shared::sync::messages::PushAnswer;

pub(super) use decide::secret;
pub(super) use named::blobs;
pub use reading::{Batch, read_push};
pub(super) use rights::Pusher;

use super::Shop;
use super::members::Member;
use super::pull::{here, verified};
use crate::error::Error;
use crate::ledger::LedgerLine;
use crate::photos::Photos;
use crate::store::{BlobHash, LogTx, Store, StoreTx, TxMode};
use decide::Decision;

impl<S: Store, P: Photos> Shop<S, P> {
    /// Accepts a batch of entries in their order, as far as the role of the device that pushes them allows. Entries that
    /// could not be read are in it as refusals. Returns one result per entry. Every accepted entry is durable then; on an
    /// error none of the batch is stored.
    ///
    /// # Errors
    /// [`Error::CursorLost`] when the server no longer has what the device last pushed; [`Error::DiskFull`],
    /// [`Error::Unavailable`], or a failure of the database or the ledger.
    pub async fn push(&self, member: &Member, batch: Batch) -> Result<PushAnswer, Error> {
        self.push_as(Pusher::Device(member), batch).await
    }

    /// Accepts a batch as [`Shop::push`] does, also from the server itself.
    pub(super) async fn push_as(&self, pusher: Pusher<'_>, batch: Batch) -> Result<PushAnswer, Error> {
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
        let known = self.look_up(&mut tx, &batch, pusher).await?;
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
        // At its start the server blanks the ledger once, after all batches.
        if !news.is_empty() && matches!(pusher, Pusher::Device(_)) {
            self.book.blank(&self.erasures())?;
        }
        Ok(PushAnswer {
            results: decision.results,
            before: Some(before),
            at,
        })
    }

    /// Deletes the bytes that committed erasures leave in the photo folder and in the database. What earlier erasures had
    /// left of an entry is taken out of the ledger after this: it must not be skipped when the ledger cannot be written.
    async fn destroy_traces(&self, news: &[LedgerLine]) -> Result<(), Error> {
        for hash in news.iter().filter_map(destroys) {
            self.photos.remove(&hash).await?;
        }
        if !news.is_empty() {
            self.store.scrub().await?;
        }
        Ok(())
    }
}

/// Writes a decision. Returns the lines that the ledger has to have before the commit.
async fn write<T: StoreTx>(tx: &mut T, decision: &mut Decision) -> Result<Vec<LedgerLine>, Error> {
    tx.insert(&decision.inserts, decision.pushed_by).await?;
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
    if let Some(counted) = &decision.counted {
        tx.set_counted_erasures(counted).await?;
    }
    write_aside(tx, decision).await?;
    blank_stored(tx, decision).await?;
    news(tx, decision).await
}

/// Keeps entries aside, and keeps those no longer that are accepted now.
async fn write_aside<T: StoreTx>(tx: &mut T, decision: &Decision) -> Result<(), Error> {
    tx.keep_aside(&decision.aside).await?;
    let accepted: Vec<_> = decision
        .inserts
        .iter()
        .map(|new| new.stored.held.entry.id)
        .collect();
    Ok(tx.forget_aside(&accepted).await?)
}

/// Blanks the entries stored before this batch that its erasures cover, and deletes those that are kept aside.
async fn blank_stored<T: StoreTx>(tx: &mut T, decision: &mut Decision) -> Result<(), Error> {
    let subjects: BTreeSet<SubjectId> = inserted(decision.erased.iter().map(|held| held.entry.subject.id));
    for subject in subjects {
        for stored in tx.on(&[subject]).await? {
            if !stored.held.entry.is_blank() && decision.erasures.covers(&stored.held.entry) {
                decision.orphan_blobs_of(&stored.held.entry);
                tx.blank(&stored).await?;
            }
        }
        for kept in tx.kept_aside_about(subject).await? {
            let entry = &kept.entry.entry;
            if decision.erasures.covers(entry) {
                decision.orphan_blobs_of(entry);
                tx.forget_aside(&[entry.id]).await?;
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
