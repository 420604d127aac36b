//! Reads what the database has for a batch.

use std::collections::{BTreeSet, HashMap, HashSet};

use shared::log::{Entry, EntryId, Erasures, ReceivedEntry, SubjectId, UnixMs, is_erasure};
use shared::sync::Problem;
use shared::sync::messages::BATCH_BYTES;

use super::aside::Aside;
use super::day_limit::{DayLimit, erased_by};
use super::decide::{BatchContext, erases_content, secret};
use super::reading::MOST_ENTRIES;
use super::rights::{LEVELS, Pusher, Rights, named_by};
use crate::error::Error;
use crate::photos::Photos;
use crate::shop::{Shop, requests};
use crate::store::{AsideTx, Budget, LogTx, NamedEntry, OutlineTx, RightsTx, Store, StoredEntry};

/// The most that is read of the stored copies of one batch.
const COPIES: Budget = Budget {
    rows: MOST_ENTRIES,
    bytes: 4 * BATCH_BYTES,
};

impl<S: Store, P: Photos> Shop<S, P> {
    /// Reads what the database has for a batch.
    pub(super) async fn look_up(
        &self,
        tx: &mut S::Tx,
        batch: &[Result<ReceivedEntry, Problem>],
        pusher: Pusher<'_>,
    ) -> Result<BatchContext, Error> {
        let now = self.world.now();
        let entries: Vec<&Entry> = batch.iter().flatten().map(|held| &held.entry).collect();
        let ids: Vec<_> = entries.iter().map(|entry| entry.id).collect();
        let subjects: BTreeSet<_> = entries.iter().map(|entry| entry.subject.id).collect();
        let secrets: Vec<_> = entries.iter().filter_map(|entry| secret(entry)).collect();
        let stored = copies(tx, &ids, pusher).await?;
        let links = if secrets.is_empty() {
            HashMap::new()
        } else {
            tx.linked_pairs(&secrets).await?
        };
        Ok(BatchContext {
            now,
            counter: tx.counter().await?,
            stored: stored
                .into_iter()
                .map(|stored| (stored.held.entry.id, stored))
                .collect(),
            subjects: tx.first_seqs(&subjects.into_iter().collect::<Vec<_>>()).await?,
            links,
            pushed_by: pusher.device(),
            rights: self.rights(tx, &entries, pusher, now).await?,
            aside: aside(tx, &ids, pusher).await?,
            day_limit: day_limit(tx, &entries, pusher, now).await?,
        })
    }

    /// The rights of the device that pushes, and what they depend on.
    async fn rights(
        &self,
        tx: &mut S::Tx,
        entries: &[&Entry],
        pusher: Pusher<'_>,
        now: UnixMs,
    ) -> Result<Rights, Error> {
        let Some(member) = pusher.limited() else {
            let erases = entries.iter().any(|entry| erases_content(entry));
            return Ok(Rights {
                shops: if erases { shops(tx).await? } else { HashSet::new() },
                ..Rights::default()
            });
        };
        let ids: Vec<_> = entries.iter().map(|entry| entry.id).collect();
        Ok(Rights {
            limited: Some(member.clone()),
            asked: self.asked.of(member.device, &ids, now),
            named: named(tx, entries).await?,
            shops: shops(tx).await?,
        })
    }
}

/// The stored copies of these entries. A device that sends entries again has sent about as much before; if there is much
/// more, it is to send fewer at once.
async fn copies<T: LogTx + OutlineTx>(
    tx: &mut T,
    ids: &[EntryId],
    pusher: Pusher<'_>,
) -> Result<Vec<StoredEntry>, Error> {
    if pusher.device().is_none() {
        return Ok(tx.stored(ids).await?);
    }
    let page = tx.stored_within(ids, COPIES).await?;
    if page.more {
        return Err(Error::TooLarge);
    }
    Ok(page.rows)
}

/// Every subject id that is the shop's.
async fn shops<T: LogTx>(tx: &mut T) -> Result<HashSet<SubjectId>, Error> {
    let own = SubjectId(tx.counter().await?.shop);
    let known = tx.shop_subjects().await?;
    Ok(known.into_iter().chain([own]).collect())
}

/// The stored entries that these replace or retract, and those that these retract, and so on.
async fn named<T: RightsTx>(tx: &mut T, entries: &[&Entry]) -> Result<HashMap<EntryId, NamedEntry>, Error> {
    let mut wanted: BTreeSet<EntryId> = entries.iter().flat_map(|entry| named_by(entry)).collect();
    let mut found: HashMap<EntryId, NamedEntry> = HashMap::new();
    for _ in 0..LEVELS {
        wanted.retain(|id| !found.contains_key(id));
        if wanted.is_empty() {
            break;
        }
        let ids: Vec<_> = std::mem::take(&mut wanted).into_iter().collect();
        let more = tx.named_entries(&ids).await?;
        wanted.extend(more.values().filter_map(|named| named.retracts));
        found.extend(more);
    }
    Ok(found)
}

/// What is kept aside, if the device may not write everything.
async fn aside<T: AsideTx>(tx: &mut T, ids: &[EntryId], pusher: Pusher<'_>) -> Result<Aside, Error> {
    if pusher.limited().is_none() {
        return Ok(Aside::default());
    }
    Ok(Aside {
        rows: tx.aside(ids).await?,
        size: tx.aside_size().await?,
        new: Vec::new(),
    })
}

/// How much may still be erased, if the batch erases anything.
async fn day_limit<T: RightsTx>(
    tx: &mut T,
    entries: &[&Entry],
    pusher: Pusher<'_>,
    now: UnixMs,
) -> Result<DayLimit, Error> {
    if pusher.device().is_none() {
        return Ok(DayLimit::off());
    }
    let mut wanted = Erasures::default();
    for entry in entries.iter().filter(|entry| is_erasure(&entry.kind)) {
        wanted.extend(erased_by(entry));
    }
    if wanted.is_empty() || pusher.limited().is_some() {
        return Ok(DayLimit::default());
    }
    let counted = tx.counted_erasures().await?;
    let asked_for = requests::asked_for(tx, now, &wanted).await?;
    Ok(DayLimit::new(now, counted, asked_for))
}
