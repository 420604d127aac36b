//! Sends what is in the shop now to a device that has no entries yet, page by page.
//!
//! Which subjects are in the shop is found without reading most of their entries, and remembered until another device
//! asks after something was stored. The entries are read only as they are sent.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::{Arc, Mutex, PoisonError};

use shared::log::fold::JobState;
use shared::log::{Body, ReceivedEntry, SubjectId, inserted};
use shared::sync::messages::InShopAnswer;
use shared::sync::{Cursor, HistoryMark};

use super::{Shop, page, pull};
use crate::error::Error;
use crate::photos::Photos;
use crate::store::{Budget, LogTx, OutlineTx, Store, StoreTx, StoredEntry, TxMode};

/// The kinds of entry that decide what is in the shop.
const KINDS: [&str; 4] = ["opened", "handed_over", "retracted", "same_as"];
/// So many subjects are looked up at once,
const AT_ONCE: usize = 500;
/// and so much of them is in memory. Of a single subject with more than that, the rest is left to the history.
const IN_MEMORY: Budget = Budget {
    rows: 20_000,
    bytes: 4_000_000,
};

/// What was in the shop at a cursor: its subjects, by the numbers at which they were first seen.
#[derive(Debug)]
pub struct InShop {
    start: Cursor,
    /// The shop's own subjects, newest first. They are sent first, because all screens need the settings.
    shops: Vec<u64>,
    /// All others, newest first.
    others: Vec<u64>,
}

/// What was last found to be in the shop.
#[derive(Debug, Default)]
pub(super) struct LastInShop(Mutex<Option<Arc<InShop>>>);

impl LastInShop {
    /// What was in the shop at this cursor, if that was found last.
    fn at(&self, start: Cursor) -> Option<Arc<InShop>> {
        let last = self.0.lock().unwrap_or_else(PoisonError::into_inner).clone();
        last.filter(|last| last.start == start)
    }

    fn set(&self, found: &Arc<InShop>) {
        *self.0.lock().unwrap_or_else(PoisonError::into_inner) = Some(found.clone());
    }
}

impl InShop {
    /// The cursor at which this was in the shop.
    pub fn start(&self) -> Cursor {
        self.start
    }

    /// The subjects of which entries are left after this one, in the order in which they are sent, each with the number
    /// of its last entry that was sent.
    fn left(&self, from: Option<HistoryMark>) -> impl Iterator<Item = (u64, u64)> {
        let at = from.map_or(u64::MAX, |mark| mark.subject_seq);
        let in_shops = from.is_none() || self.shops.contains(&at);
        let shops = self.shops.iter().filter(move |seq| in_shops && **seq <= at);
        let others = self.others.iter().filter(move |seq| in_shops || **seq <= at);
        let sent = move |seq: &u64| {
            let last = from.filter(|mark| mark.subject_seq == *seq);
            (*seq, last.map_or(0, |mark| mark.seq))
        };
        shops.chain(others).map(sent)
    }
}

impl<S: Store, P: Photos> Shop<S, P> {
    /// What is in the shop now: every job that is not handed over, its pair, ticket and customer, all records that are the
    /// same as these, and the shop itself.
    ///
    /// # Errors
    /// A failure of the database.
    pub async fn in_shop(&self) -> Result<Arc<InShop>, Error> {
        let mut tx = self.begin(TxMode::Read).await?;
        let counter = tx.counter().await?;
        let start = pull::here(&mut tx, &counter).await?;
        if let Some(known) = self.in_shop.at(start) {
            return Ok(known);
        }
        let found = Arc::new(find(&mut tx, start).await?);
        self.in_shop.set(&found);
        Ok(found)
    }

    /// A page of the entries of what is in the shop: the first one, or the one after a mark in what was in the shop at a
    /// cursor. If that is no longer known, it goes on with what is in the shop now; what is left out by that is in the
    /// history.
    ///
    /// # Errors
    /// [`Error::CursorLost`] when the cursor is none of this numbering.
    pub async fn in_shop_page(&self, after: Option<(Cursor, HistoryMark)>) -> Result<InShopAnswer, Error> {
        let found = match after {
            None => self.in_shop().await?,
            Some((start, _)) => self.in_shop_at(start).await?,
        };
        let start = after.map_or(found.start, |(start, _)| start);
        let from = after.map(|(_, mark)| mark);
        let (mut rows, mut more) = self.rows_in_shop(&found, start, from, page::READ).await?;
        let fit = page::fitting(rows.iter().map(|stored| &stored.held));
        more |= fit < rows.len();
        rows.truncate(fit);
        let next = rows.last().filter(|_| more).map(mark_of);
        Ok(InShopAnswer {
            entries: rows.into_iter().map(|stored| stored.held).collect(),
            start,
            next,
        })
    }

    /// The next entries of what was found in the shop, of about so many bytes, and the mark after them if more are left.
    ///
    /// # Errors
    /// A failure of the database.
    pub async fn in_shop_part(
        &self,
        found: &InShop,
        from: Option<HistoryMark>,
        budget: Budget,
    ) -> Result<(Vec<ReceivedEntry>, Option<HistoryMark>), Error> {
        let (rows, more) = self.rows_in_shop(found, found.start, from, budget).await?;
        let next = rows.last().filter(|_| more).map(mark_of);
        Ok((rows.into_iter().map(|stored| stored.held).collect(), next))
    }

    async fn in_shop_at(&self, start: Cursor) -> Result<Arc<InShop>, Error> {
        let mut tx = self.begin(TxMode::Read).await?;
        let counter = tx.counter().await?;
        pull::verified(&mut tx, &counter, start).await?;
        drop(tx);
        match self.in_shop.at(start) {
            Some(known) => Ok(known),
            None => self.in_shop().await,
        }
    }

    /// Reads entries that were stored up to `start`, and whether more are left.
    async fn rows_in_shop(
        &self,
        found: &InShop,
        start: Cursor,
        from: Option<HistoryMark>,
        budget: Budget,
    ) -> Result<(Vec<StoredEntry>, bool), Error> {
        let mut tx = self.begin(TxMode::Read).await?;
        let mut left = budget;
        let mut rows = Vec::new();
        for (subject, sent) in found.left(from) {
            if left.rows == 0 || left.bytes == 0 {
                return Ok((rows, true));
            }
            let page = tx.on_subject(subject, sent, start.seq, left).await?;
            left = left.after(&page.rows);
            rows.extend(page.rows);
            if page.more {
                return Ok((rows, true));
            }
        }
        Ok((rows, false))
    }
}

fn mark_of(last: &StoredEntry) -> HistoryMark {
    HistoryMark {
        subject_seq: last.subject_seq,
        seq: last.seq,
    }
}

/// Finds out what is in the shop.
async fn find<T: StoreTx>(tx: &mut T, start: Cursor) -> Result<InShop, Error> {
    let perhaps = tx.jobs_perhaps_here().await?;
    let mut links = InShopLinks::default();
    read(tx, perhaps, |asked, rows| links.take_jobs(asked, rows)).await?;
    let shops = tx.shop_subjects().await?;
    links.want(shops.iter().copied());
    while !links.wanted.is_empty() {
        let wanted: Vec<_> = std::mem::take(&mut links.wanted).into_iter().collect();
        links.known.extend(&wanted);
        read(tx, wanted, |_, rows| links.take(rows)).await?;
    }
    let all: Vec<_> = links.here.union(&links.known).copied().collect();
    let first_seqs = tx.first_seqs(&all).await?;
    let shops: BTreeSet<_> = inserted(shops.iter().filter_map(|id| first_seqs.get(id)).copied());
    let all: BTreeSet<_> = inserted(first_seqs.into_values());
    let newest_first = all.into_iter().rev();
    let (shops, others) = newest_first.partition(|seq| shops.contains(seq));
    Ok(InShop { start, shops, others })
}

/// Reads what matters of the entries about these subjects, some subjects at a time.
async fn read<T: OutlineTx>(
    tx: &mut T,
    subjects: Vec<SubjectId>,
    mut take: impl FnMut(&[SubjectId], Vec<StoredEntry>),
) -> Result<(), Error> {
    let mut left: Vec<&[SubjectId]> = subjects.chunks(AT_ONCE).collect();
    while let Some(some) = left.pop() {
        let page = tx.outline(some, &KINDS, IN_MEMORY).await?;
        if page.more && some.len() > 1 {
            let (one, other) = some.split_at(some.len() / 2);
            left.extend([one, other]);
        } else {
            take(some, page.rows);
        }
    }
    Ok(())
}

/// The subjects that are in the shop, as far as the links between them have been followed.
#[derive(Debug, Default)]
struct InShopLinks {
    /// The jobs.
    here: BTreeSet<SubjectId>,
    /// Everything else, and jobs that are the same as others, if they were looked up.
    known: BTreeSet<SubjectId>,
    /// What is still to be looked up.
    wanted: BTreeSet<SubjectId>,
}

impl InShopLinks {
    /// Takes in those of these jobs that are not handed over.
    fn take_jobs(&mut self, asked: &[SubjectId], rows: Vec<StoredEntry>) {
        let mut by_job: BTreeMap<SubjectId, Vec<ReceivedEntry>> = BTreeMap::new();
        let asked: BTreeSet<_> = inserted(asked.iter().copied());
        for stored in rows {
            let job = stored.subject().id;
            if asked.contains(&job) {
                by_job.entry(job).or_default().push(stored.held);
            }
        }
        for (job, entries) in by_job {
            if JobState::of(&entries).handed_over.is_none() {
                self.here.insert(job);
                entries.iter().for_each(|held| self.follow(held));
            }
        }
    }

    /// Takes in entries about known subjects. One that only links to such a subject, such as an earlier job of the
    /// customer, is left to the history, unless it says that another subject is the same.
    fn take(&mut self, rows: Vec<StoredEntry>) {
        for stored in rows {
            let joins = stored.held.entry.kind == "same_as";
            if joins || self.known.contains(&stored.subject().id) {
                self.follow(&stored.held);
            }
        }
    }

    /// Notes the subjects to which an entry leads as still to be looked up.
    fn follow(&mut self, held: &ReceivedEntry) {
        let leads_to = match Body::of(&held.entry) {
            Body::Opened(opened) => [opened.pair, opened.ticket, opened.customer],
            Body::SameAs(same) => [Some(held.entry.subject.id), Some(same.other), None],
            _ => [None; 3],
        };
        self.want(leads_to.into_iter().flatten());
    }

    fn want(&mut self, subjects: impl Iterator<Item = SubjectId>) {
        let known = &self.known;
        self.wanted.extend(subjects.filter(|id| !known.contains(id)));
    }
}
