//! The search lines of customers whom no pair names: those whom a file brought in, those who only bought goods, and those
//! whose drop-off was undone. All others are found by their pairs.

use std::collections::BTreeSet;

use serde::Deserialize;
use shared::log::fold::CustomerState;
use shared::log::{ReceivedEntry, SubjectId, SubjectKind, UnixMs, inserted};

use super::error::StoreError;
use super::kv::{KvTx, Row};
use super::mentions;
use super::search::{self, SearchChange, SearchLine, search_text};
use super::tables::{PAIRS, index};
use super::writing::Writing;

/// The first version of the fold whose app has these lines. What it received before is looked at once.
const KNOWS_CUSTOMERS: u32 = 14;

/// Of a row of `pairs`, whom it names.
#[derive(Deserialize)]
struct NamingRow {
    /// The customer under every id; empty in a row of an earlier app.
    #[serde(default)]
    owners: BTreeSet<SubjectId>,
}

impl NamingRow {
    fn read(row: &Row) -> Option<Self> {
        serde_json::from_str(row.as_text()?).ok()
    }
}

/// The customers whom the pairs that were folded in a transaction name, under every id.
#[derive(Debug, Default)]
pub(super) struct OwnerChanges {
    /// By the rows as they were.
    pub(super) before: BTreeSet<SubjectId>,
    /// By the rows as they are now.
    pub(super) now: BTreeSet<SubjectId>,
}

/// Writes the lines that have changed. `touched` are the customers with changed entries: every pair that refers to one of
/// them was folded in this transaction.
pub(super) async fn refresh<T: KvTx>(
    writing: &mut Writing<T>,
    touched: &BTreeSet<SubjectId>,
    owners: &OwnerChanges,
) -> Result<(), StoreError> {
    let lost = owners.before.difference(&owners.now);
    let lost: BTreeSet<SubjectId> = inserted(lost.copied().filter(|id| !touched.contains(id)));
    let mut unnamed = named_by_none(writing.tx(), lost).await?;
    unnamed.extend(touched.difference(&owners.now).copied());
    let mut affected = unnamed.clone();
    affected.extend(owners.now.difference(&owners.before).copied());
    if affected.is_empty() {
        return Ok(());
    }
    let known = search::customer_lines(writing.tx(), &affected).await?;
    if unnamed.is_empty() && known.is_empty() {
        return Ok(());
    }
    let ids: Vec<SubjectId> = unnamed.iter().copied().collect();
    let about = writing.lookup.about(&ids).await?;
    let mut changes = Vec::new();
    for (id, about) in ids.into_iter().zip(about) {
        match (line(id, &about), known.get(&id)) {
            (Some(line), before) if before != Some(&line) => changes.push(SearchChange::SetCustomer(line)),
            (None, Some(_)) => changes.push(SearchChange::GoneCustomer(id)),
            _ => {}
        }
    }
    let named = known.keys().copied().filter(|id| !unnamed.contains(id));
    changes.extend(named.map(SearchChange::GoneCustomer));
    writing.change_search(changes).await
}

/// Those of these customers whom no row of a pair names.
async fn named_by_none<T: KvTx>(
    tx: &T,
    mut customers: BTreeSet<SubjectId>,
) -> Result<BTreeSet<SubjectId>, StoreError> {
    if customers.is_empty() {
        return Ok(customers);
    }
    let values: Vec<_> = customers.iter().map(SubjectId::to_string).collect();
    let rows = tx.by_index(PAIRS, index::REFS, &values).await?;
    for pair in rows.iter().flatten().filter_map(NamingRow::read) {
        customers.retain(|id| !pair.owners.contains(id));
    }
    Ok(customers)
}

/// The line of a customer from every entry about them, by id; `None` if there is nothing to find them by.
fn line(customer: SubjectId, about: &[ReceivedEntry]) -> Option<SearchLine> {
    let own = about.iter().filter(|received| {
        let subject = &received.entry.subject;
        subject.id == customer && subject.kind == SubjectKind::Customer
    });
    let own: Vec<&ReceivedEntry> = own.collect();
    let text = text(&CustomerState::of(own.iter().copied()));
    let newest = own.iter().map(|received| received.entry.made_at.utc).max();
    (!text.is_empty()).then(|| SearchLine::of_customer(customer, newest.unwrap_or(UnixMs(0)), &text))
}

/// What a customer is found by: the name, and the digits of the telephone numbers, on one line.
fn text(state: &CustomerState) -> String {
    let digits = |number: &str| number.chars().filter(char::is_ascii_digit).collect::<String>();
    let first = digits(state.phone().unwrap_or_default());
    let further = state.phone_second().unwrap_or_default().split(',').map(digits);
    let further: Vec<String> = further.collect();
    let numbers = std::iter::once(&first).chain(&further);
    let name = state.name().unwrap_or_default().split_whitespace();
    let words = name.chain(numbers.map(String::as_str));
    search_text(words.filter(|word| !word.is_empty()))
}

/// The customers whose line is to be made after an update of the app from this version of the fold. All rows of pairs are
/// of the new version then.
pub(super) async fn after_update<T: KvTx>(tx: &T, from: u32) -> Result<BTreeSet<SubjectId>, StoreError> {
    let mut customers = BTreeSet::new();
    if from >= KNOWS_CUSTOMERS {
        return Ok(customers);
    }
    let may_be = |text: &str| text.contains("customer");
    let mut note = |received: ReceivedEntry| {
        if received.entry.subject.kind == SubjectKind::Customer {
            customers.insert(received.entry.subject.id);
        }
    };
    mentions::each_entry(tx, &may_be, &mut note).await?;
    let mut after = String::new();
    loop {
        let rows: Vec<Row> = tx.after(PAIRS, &after, 1000).await?;
        let Some(last) = rows.last() else {
            return Ok(customers);
        };
        after.clone_from(&last.key);
        for pair in rows.iter().filter_map(NamingRow::read) {
            for owner in &pair.owners {
                customers.remove(owner);
            }
        }
    }
}
