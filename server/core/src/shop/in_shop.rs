//! Sends what is in the shop now to a device that has no entries yet.

use std::collections::{BTreeMap, BTreeSet};

use shared::log::fold::JobState;
use shared::log::{Body, EntryId, ReceivedEntry, SubjectId};
use shared::sync::messages::InShopAnswer;

use super::{Shop, pull};
use crate::error::Error;
use crate::photos::Photos;
use crate::store::{LogTx, Store, StoredEntry, TxMode};

impl<S: Store, P: Photos> Shop<S, P> {
    /// The entries of every job that is not handed over, of its pair, ticket and customer, of all records that are the
    /// same as these, and of the shop itself.
    ///
    /// # Errors
    /// A failure of the database.
    pub async fn in_shop(&self) -> Result<InShopAnswer, Error> {
        let mut tx = self.begin(TxMode::Read).await?;
        let counter = tx.counter().await?;
        let start = pull::here(&mut tx, &counter).await?;
        let perhaps = tx.jobs_perhaps_here().await?;
        let jobs = still_here(tx.on(&perhaps).await?);
        let mut found = InShopGather::default();
        for held in jobs {
            found.follow(&held);
            found.take(held);
        }
        found.wanted.extend(tx.shop_subjects().await?);
        while !found.wanted.is_empty() {
            let wanted: Vec<_> = std::mem::take(&mut found.wanted).into_iter().collect();
            found.known.extend(&wanted);
            for stored in tx.about(&wanted).await? {
                found.take_own(stored.held);
            }
        }
        Ok(InShopAnswer {
            entries: found.entries.into_values().collect(),
            start,
        })
    }
}

/// The entries about those jobs that are not handed over.
fn still_here(entries: Vec<StoredEntry>) -> Vec<ReceivedEntry> {
    let mut by_job: BTreeMap<SubjectId, Vec<ReceivedEntry>> = BTreeMap::new();
    for stored in entries {
        by_job.entry(stored.subject().id).or_default().push(stored.held);
    }
    by_job
        .into_values()
        .filter(|job| JobState::of(job).handed_over.is_none())
        .flatten()
        .collect()
}

/// The entries gathered so far, and the subjects that are still to be read.
#[derive(Default)]
struct InShopGather {
    entries: BTreeMap<EntryId, ReceivedEntry>,
    known: BTreeSet<SubjectId>,
    wanted: BTreeSet<SubjectId>,
}

impl InShopGather {
    fn take(&mut self, held: ReceivedEntry) {
        self.entries.insert(held.entry.id, held);
    }

    /// Takes an entry about a known subject, or one that says that another subject is the same. An entry that only
    /// links to the subject, such as an earlier job of the customer, is left to the history.
    fn take_own(&mut self, held: ReceivedEntry) {
        let joins = matches!(Body::of(&held.entry), Body::SameAs(_));
        if joins || self.known.contains(&held.entry.subject.id) {
            self.follow(&held);
            self.take(held);
        }
    }

    /// Notes the subjects to which an entry leads as still to be read.
    fn follow(&mut self, held: &ReceivedEntry) {
        let leads_to = match Body::of(&held.entry) {
            Body::Opened(opened) => [opened.pair, opened.ticket, opened.customer],
            Body::SameAs(same) => [Some(held.entry.subject.id), Some(same.other), None],
            _ => [None; 3],
        };
        let new = leads_to
            .into_iter()
            .flatten()
            .filter(|id| !self.known.contains(id));
        self.wanted.extend(new);
    }
}
