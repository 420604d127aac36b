//! One summary for every pair, kept equal to a fresh fold of all stored entries.
//!
//! A pair's row is indexed by every subject that its fold has read, so that an entry about any of them finds it. A
//! batch of up to a page updates its pairs in its own transaction. A larger one notes which subjects it changed, and
//! the summaries follow in transactions of their own ([`rebuild`]), whatever happens in between. The rows of [`sales`]
//! are updated in the same transactions, and so are the search lines of [`customers`] whom no pair names.

use std::collections::{BTreeMap, BTreeSet};

use serde::{Deserialize, Serialize};
use shared::log::fold::{FOLD_VERSION, PairHistory, Summary, summary};
use shared::log::{SubjectId, inserted};
use shared::price::records::PairFacts;

use super::change::Touched;
use super::customers::{self, OwnerChanges};
use super::error::StoreError;
use super::ingest;
use super::kv::{KvTx, Row};
use super::lookup::FoundPair;
use super::mentions;
use super::meta::encode;
use super::range_scan::{self, Overread};
use super::sales;
use super::search::{SearchChange, SearchLine};
use super::tables::{PAIRS, index};
use super::writing::Writing;

/// With at least so many changed subjects, the tail is first read as a whole.
const MANY: usize = 64;

/// How many changed subjects, and how many pairs, one transaction folds: as many as a full page of history changes, so
/// that a pair with several changed subjects is folded once. After a larger batch the summaries follow in transactions
/// of their own.
const CHUNK: usize = 1024;

/// The first version of the fold whose app knows that single mentions are erased. What it received before is looked at
/// once.
const KNOWS_MENTIONS: u32 = 11;

/// A row of `pairs`, without the facts for the books, which lists do not read.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub(super) struct PairRow {
    pub(super) fold_version: u32,
    pub(super) summary: Summary,
    /// Every id of the pair.
    pub(super) same: BTreeSet<SubjectId>,
    /// The place of its search line.
    slot: u64,
    /// The customer who is named in its search line, under every id.
    #[serde(default, skip_serializing_if = "BTreeSet::is_empty")]
    owners: BTreeSet<SubjectId>,
}

/// A whole row of `pairs`, as it is written.
#[derive(Serialize)]
struct WholePairRow<'a> {
    #[serde(flatten)]
    row: &'a PairRow,
    facts: &'a PairFacts,
}

impl PairRow {
    pub(super) fn read(row: &Row) -> Option<PairRow> {
        serde_json::from_str(row.as_text()?).ok()
    }

    fn row(&self, history: &PairHistory) -> Row {
        let key = self.summary.id.to_string();
        let facts = PairFacts::of(history);
        let whole = WholePairRow {
            row: self,
            facts: &facts,
        };
        let mut row = Row::text(key.as_str(), encode(&whole));
        row.indexed = history
            .read
            .union(&self.same)
            .map(|subject| (index::REFS, subject.to_string()))
            .collect();
        let months = facts.months();
        row.indexed
            .extend(months.into_iter().map(|month| (index::MONTH, month)));
        if self.summary.open() {
            row.indexed.push((index::OPEN, key));
        } else if let Some(day) = next_check(history) {
            row.indexed.push((index::DUE, day.to_owned()));
        }
        row
    }
}

/// The day of the next check on the latest card; `None` if no card has one.
fn next_check(history: &PairHistory) -> Option<&str> {
    let told = history.jobs.values().rev().filter_map(|job| job.published.last());
    told.map(|item| item.body.section.next_check.as_deref()).next()?
}

/// Updates the summaries after a batch, now or later depending on its size.
pub(super) async fn refresh<T: KvTx>(writing: &mut Writing<T>, touched: Touched) -> Result<(), StoreError> {
    let tickets = sales::affected(writing.tx(), &touched).await?;
    if touched.subjects.len().max(touched.pairs.len()) <= CHUNK {
        refold(writing, touched).await?;
        return sales::refold(writing, &tickets).await;
    }
    writing.meta.stale.subjects.extend(touched.subjects);
    writing.meta.stale.pairs.extend(touched.pairs);
    writing.meta.stale.tickets.extend(tickets);
    writing.meta.stale.customers.extend(touched.customers);
    Ok(())
}

/// Folds some of the pairs that large batches have left out of date. Call it until none is left.
pub(super) async fn rebuild<T: KvTx>(writing: &mut Writing<T>) -> Result<(), StoreError> {
    let mut touched = Touched::default();
    // New subjects are last in a set of UUIDv7, and are folded first.
    while touched.subjects.len() < CHUNK {
        let Some(subject) = writing.meta.stale.subjects.pop_last() else {
            break;
        };
        touched.subjects.insert(subject);
    }
    while touched.pairs.len() < CHUNK {
        let Some(pair) = writing.meta.stale.pairs.pop_last() else {
            break;
        };
        touched.pairs.insert(pair);
    }
    let mut tickets = BTreeSet::new();
    while tickets.len() < CHUNK {
        let Some(ticket) = writing.meta.stale.tickets.pop_last() else {
            break;
        };
        tickets.insert(ticket);
    }
    while touched.customers.len() < CHUNK {
        let Some(customer) = writing.meta.stale.customers.pop_last() else {
            break;
        };
        // The pairs that refer to the customer tell whether one of them names the customer.
        touched.subjects.insert(customer);
        touched.customers.insert(customer);
    }
    if let Some(after) = writing.meta.stale.walk.take() {
        touched.pairs.extend(walk(writing, &after).await?);
    }
    refold(writing, touched).await?;
    sales::refold(writing, &tickets).await
}

/// The pairs with an older fold version among the rows after this key.
async fn walk<T: KvTx>(writing: &mut Writing<T>, after: &str) -> Result<Vec<SubjectId>, StoreError> {
    let rows = writing.tx().after(PAIRS, after, CHUNK as u32).await?;
    writing.meta.stale.walk = rows.last().map(|row| row.key.clone());
    if rows.is_empty() {
        if writing.meta.state.fold_version < KNOWS_MENTIONS {
            let erased = mentions::erased(writing.tx()).await?;
            let mut touched = Touched::default();
            ingest::take_erasures(writing, erased, &mut touched).await?;
            writing.meta.stale.subjects.extend(touched.subjects);
            writing.meta.stale.pairs.extend(touched.pairs);
        }
        let from = writing.meta.state.fold_version;
        let tickets = sales::after_update(writing.tx(), from).await?;
        writing.meta.stale.tickets.extend(tickets);
        let customers = customers::after_update(writing.tx(), from).await?;
        writing.meta.stale.customers.extend(customers);
        writing.meta.state.fold_version = FOLD_VERSION;
    }
    let old = |row: &&Row| PairRow::read(row).is_none_or(|pair| pair.fold_version < FOLD_VERSION);
    Ok(rows
        .iter()
        .filter(old)
        .filter_map(|row| row.key.parse().ok())
        .collect())
}

/// Folds every changed pair afresh.
async fn refold<T: KvTx>(writing: &mut Writing<T>, touched: Touched) -> Result<(), StoreError> {
    if touched.subjects.len() + touched.pairs.len() >= MANY {
        writing.lookup.hold_tail().await?;
    }
    let values: Vec<_> = touched.subjects.iter().map(SubjectId::to_string).collect();
    let refs = (PAIRS, index::REFS);
    let keys = range_scan::keys(writing.tx(), refs, &values, Overread::Little).await?;
    let mut todo = touched.pairs;
    todo.extend(keys.iter().filter_map(|key| key.parse::<SubjectId>().ok()));
    let mut done = BTreeSet::new();
    let mut refolded = RefoldedPairs::default();
    while !todo.is_empty() {
        let batch: Vec<_> = std::mem::take(&mut todo).into_iter().collect();
        let mut found = writing.lookup.histories(&batch).await?;
        done.extend(batch);
        let mut written = BTreeSet::new();
        found.retain(|one| written.insert(one.history.id));
        let mut rows = rows_of(writing, &found).await?;
        for one in &found {
            let before = one
                .history
                .same
                .iter()
                .filter_map(|id| rows.remove(&id.to_string()))
                .collect();
            done.extend(one.history.same.iter().copied());
            todo.extend(store(writing, one, before, &mut refolded));
        }
        todo.retain(|pair| !done.contains(pair));
    }
    writing.change_search(refolded.changes).await?;
    customers::refresh(writing, &touched.customers, &refolded.owners).await
}

/// What folding pairs afresh has changed.
#[derive(Default)]
struct RefoldedPairs {
    changes: Vec<SearchChange>,
    owners: OwnerChanges,
}

/// The stored rows of these pairs, under any of their ids.
async fn rows_of<T: KvTx>(
    writing: &Writing<T>,
    found: &[FoundPair],
) -> Result<BTreeMap<String, FoundRow>, StoreError> {
    let keys: Vec<_> = found
        .iter()
        .flat_map(|one| &one.history.same)
        .map(SubjectId::to_string)
        .collect();
    let rows = writing.tx().get_many(PAIRS, &keys).await?;
    let stored = rows.into_iter().flatten().filter_map(|row| {
        let pair = PairRow::read(&row)?;
        Some((row.key.clone(), FoundRow { row, pair }))
    });
    Ok(stored.collect())
}

/// A stored row.
struct FoundRow {
    row: Row,
    pair: PairRow,
}

/// Stores one pair's summary in place of the stored rows. Returns the pairs that were the same as it before and no
/// longer are.
fn store<T: KvTx>(
    writing: &mut Writing<T>,
    found: &FoundPair,
    before: Vec<FoundRow>,
    refolded: &mut RefoldedPairs,
) -> BTreeSet<SubjectId> {
    let history = &found.history;
    let named = before.iter().flat_map(|one| &one.pair.owners);
    refolded.owners.before.extend(named.copied());
    let parted = before
        .iter()
        .flat_map(|one| one.pair.same.difference(&history.same))
        .copied()
        .collect();
    let (mut own, others): (Vec<_>, Vec<_>) = before
        .into_iter()
        .partition(|one| found.known && one.pair.summary.id == history.id);
    for other in others {
        writing.tx().delete(PAIRS, &other.row.key);
        let gone = SearchChange::Gone(other.pair.slot, other.pair.summary.id);
        refolded.changes.push(gone);
    }
    if found.known {
        put(writing, history, own.pop(), refolded);
    }
    parted
}

/// Writes one pair's row and search line, if they changed.
fn put<T: KvTx>(
    writing: &mut Writing<T>,
    history: &PairHistory,
    before: Option<FoundRow>,
    refolded: &mut RefoldedPairs,
) {
    let summary = Summary::of(history);
    let line = SearchLine::of(&summary);
    let slot = match &before {
        Some(one) => one.pair.slot,
        None => writing.new_slot(),
    };
    if before
        .as_ref()
        .is_none_or(|one| SearchLine::of(&one.pair.summary) != line)
    {
        refolded.changes.push(SearchChange::Set(slot, line));
    }
    let owners: BTreeSet<SubjectId> = inserted(summary::owner_ids(history));
    refolded.owners.now.extend(owners.iter().copied());
    let now = PairRow {
        fold_version: FOLD_VERSION,
        summary,
        same: history.same.clone(),
        slot,
        owners,
    };
    let row = now.row(history);
    if before.is_none_or(|one| !same_row(&one.row, &row)) {
        writing.tx().put(PAIRS, row);
    }
}

/// Whether two rows are equal, ignoring the order of index values.
fn same_row(a: &Row, b: &Row) -> bool {
    let sorted = |row: &Row| {
        let mut indexed = row.indexed.clone();
        indexed.sort();
        indexed
    };
    a.value == b.value && sorted(a) == sorted(b)
}
