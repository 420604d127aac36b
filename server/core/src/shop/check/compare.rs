//! Reads every entry, and compares the tables that are derived from the entries with them.

use std::collections::{BTreeMap, BTreeSet};

use shared::log::{SubjectId, about};

use super::pages::{CheckedPage, CheckedPages};
use crate::shop::ingest::{blobs, secret};
use crate::store::{CheckedEntry, DatabaseError, DerivedRows, StoreTx, StoredEntry};

/// What can be wrong. Each is followed by how many there are.
pub(super) const DAMAGED: &str = "entries that cannot be read, or are not as they were stored";
pub(super) const ENVELOPES: &str = "entries with a field that no entry can have";
const UNNUMBERED: &str = "entries whose own number leads elsewhere or nowhere";
const MISSING: &str = "numbers up to the counter that are missing";
const BEYOND: &str = "numbers beyond the counter";
const NOWHERE: &str = "numbers that lead to no entry";
const SUBJECTS: &str = "subjects that are missing, or not as their entries say";
const ABOUT_MISSING: &str = "links from an entry to a subject that are missing";
const ABOUT_OVER: &str = "links from an entry to a subject that no entry has";
const NAMED_MISSING: &str = "links from an entry to a photograph that are missing";
const NAMED_OVER: &str = "links from an entry to a photograph that no entry has";
const CARD_LINKS: &str = "card links that are missing, or lead to another pair";

/// Reads and compares everything.
pub(super) async fn read<T: StoreTx>(tx: &mut T) -> Result<Comparison, DatabaseError> {
    let mut comparison = Comparison {
        counter: tx.counter().await?.seq,
        ..Comparison::default()
    };
    let mut pages = CheckedPages::new();
    while let Some(CheckedPage { rows, seqs }) = pages.next(tx).await? {
        let derived = tx.derived(seqs).await?;
        comparison.entries(&rows);
        comparison.numbers(&rows, &derived);
        comparison.links(&rows, &derived);
        comparison.subjects(tx, &rows, &derived).await?;
        comparison.card_links(tx, &rows).await?;
    }
    Ok(comparison)
}

/// What was found so far.
#[derive(Debug, Default)]
pub(super) struct Comparison {
    /// The last number that was given, as the counter says.
    counter: u64,
    /// The number that each entry got when it was stored, in order.
    seqs: Vec<u64>,
    /// How many of the numbers up to the counter are in the feed.
    numbered: u64,
    /// Numbers of entries that are gone.
    gone: BTreeSet<u64>,
    /// Subjects that do not agree with their entries.
    subjects: BTreeSet<SubjectId>,
    /// How many there are of each fault.
    counts: BTreeMap<&'static str, usize>,
}

impl Comparison {
    fn count(&mut self, what: &'static str, many: usize) {
        *self.counts.entry(what).or_default() += many;
    }

    fn entries(&mut self, rows: &[CheckedEntry]) {
        let unsound = rows.iter().filter(|row| is_unsound(row)).count();
        let damaged = damaged(rows).len();
        self.count(DAMAGED, damaged);
        self.count(ENVELOPES, unsound - damaged);
    }

    /// Every number from 1 to the counter was given to an entry; the first one of an entry is its own.
    fn numbers(&mut self, rows: &[CheckedEntry], derived: &DerivedRows) {
        self.seqs.extend(rows.iter().map(|row| row.seq));
        let within = derived.feed.range(..=(self.counter, u64::MAX)).count();
        self.numbered += within as u64;
        let leads = |entry: &u64| self.seqs.binary_search(entry).is_ok();
        let nowhere = derived.feed.iter().filter(|(_, entry)| !leads(entry));
        // A number that an entry has never had is a fault of the feed alone.
        let gone = nowhere.clone().filter(|(seq, entry)| entry <= seq && *entry > 0);
        let gone: Vec<u64> = gone.map(|(_, entry)| *entry).collect();
        let nowhere = nowhere.count();
        self.gone.extend(gone);
        let unnumbered = rows
            .iter()
            .filter(|row| !derived.feed.contains(&(row.seq, row.seq)));
        self.count(BEYOND, derived.feed.len() - within);
        self.count(NOWHERE, nowhere);
        self.count(UNNUMBERED, unnumbered.count());
    }

    /// Which subjects an entry concerns, and which photographs it names.
    fn links(&mut self, rows: &[CheckedEntry], derived: &DerivedRows) {
        let damaged = damaged(rows);
        let concerned: BTreeSet<_> = intact(rows)
            .flat_map(|stored| {
                let concerned = about(&stored.held.entry).into_iter();
                concerned.map(|id| (stored.seq, id))
            })
            .collect();
        let (missing, over) = difference(&concerned, &derived.about, &damaged);
        self.count(ABOUT_MISSING, missing);
        self.count(ABOUT_OVER, over);
        let named: BTreeSet<_> = intact(rows)
            .flat_map(|stored| {
                let named = blobs(&stored.held.entry).into_iter();
                named.map(|hash| (stored.seq, hash))
            })
            .collect();
        let (missing, over) = difference(&named, &derived.named, &damaged);
        self.count(NAMED_MISSING, missing);
        self.count(NAMED_OVER, over);
    }

    /// A subject has the kind and the number of its first entry, and each of its entries has that number too.
    async fn subjects<T: StoreTx>(
        &mut self,
        tx: &mut T,
        rows: &[CheckedEntry],
        derived: &DerivedRows,
    ) -> Result<(), DatabaseError> {
        let ids: BTreeSet<_> = intact(rows).map(|stored| stored.subject().id).collect();
        let known = tx.first_seqs(&ids.into_iter().collect::<Vec<_>>()).await?;
        let strange = intact(rows).filter(|stored| {
            let first = known.get(&stored.subject().id);
            first != Some(&stored.subject_seq)
        });
        self.subjects.extend(strange.map(|stored| stored.subject().id));
        for (subject, seq) in &derived.subjects {
            let at = rows.binary_search_by_key(seq, |row| row.seq);
            let agrees = match at.map(|at| &rows[at].intact) {
                Ok(Some(first)) => first.subject() == subject && first.subject_seq == *seq,
                // What a damaged entry said is not known.
                Ok(None) => true,
                Err(_) => false,
            };
            if !agrees {
                self.subjects.insert(subject.id);
            }
        }
        Ok(())
    }

    /// The link of a card leads to the pair whose entry has it.
    async fn card_links<T: StoreTx>(
        &mut self,
        tx: &mut T,
        rows: &[CheckedEntry],
    ) -> Result<(), DatabaseError> {
        let links: Vec<(String, SubjectId)> = intact(rows)
            .filter_map(|stored| Some((secret(&stored.held.entry)?, stored.subject().id)))
            .collect();
        let secrets: Vec<String> = links.iter().map(|(secret, _)| secret.clone()).collect();
        let known = tx.linked_pairs(&secrets).await?;
        let wrong = links
            .iter()
            .filter(|(secret, pair)| known.get(secret) != Some(pair));
        self.count(CARD_LINKS, wrong.count());
        Ok(())
    }

    /// Whether numbers are wrong that entries were given.
    pub(super) fn numbers_are_wrong(&self) -> bool {
        let wrong = |what| self.counts.get(what).is_some_and(|many| *many > 0);
        [UNNUMBERED, BEYOND, NOWHERE].into_iter().any(wrong) || self.numbered != self.counter
    }

    /// How many entries are gone, as far as numbers tell that were given to them.
    pub(super) fn gone(&self) -> usize {
        self.gone.len()
    }

    /// The findings, one sentence each.
    pub(super) fn told(mut self) -> Vec<String> {
        let missing = self.counter.saturating_sub(self.numbered);
        self.count(MISSING, usize::try_from(missing).unwrap_or(usize::MAX));
        self.count(SUBJECTS, self.subjects.len());
        let found = self.counts.into_iter().filter(|(_, many)| *many > 0);
        found.map(|(what, many)| format!("{what}: {many}")).collect()
    }
}

/// Whether an entry is damaged, or has a field that no entry can have.
pub(super) fn is_unsound(row: &CheckedEntry) -> bool {
    let entry = row.intact.as_ref().map(|stored| &stored.held.entry);
    entry.is_none_or(|entry| entry.check().is_err())
}

fn intact(rows: &[CheckedEntry]) -> impl Iterator<Item = &StoredEntry> {
    rows.iter().filter_map(|row| row.intact.as_ref())
}

/// The numbers of the damaged entries.
fn damaged(rows: &[CheckedEntry]) -> BTreeSet<u64> {
    let damaged = rows.iter().filter(|row| row.intact.is_none());
    damaged.map(|row| row.seq).collect()
}

/// How many rows are missing, and how many are there that should not be. Those of damaged entries are left out: what
/// they should be is not known.
fn difference<T: Ord>(
    wanted: &BTreeSet<(u64, T)>,
    there: &BTreeSet<(u64, T)>,
    damaged: &BTreeSet<u64>,
) -> (usize, usize) {
    let over = there.difference(wanted).filter(|(seq, _)| !damaged.contains(seq));
    (wanted.difference(there).count(), over.count())
}
