//! One row for every ticket on which goods were sold over the counter, kept equal to a fresh fold of all stored
//! entries.
//!
//! The books need it, because such a ticket may have no pair, in whose row it would be. A batch of up to a page updates
//! its tickets in its own transaction; after a larger one they follow with the summaries.

use std::collections::{BTreeMap, BTreeSet};

use serde::{Deserialize, Serialize};
use shared::log::fold::TicketState;
use shared::log::{ReceivedEntry, Subject, SubjectId, SubjectKind, UnixMs, inserted};
use shared::price::records::{PairFacts, SoldGoods, TicketFacts};

use super::KvStore;
use super::change::Touched;
use super::error::StoreError;
use super::kv::{KeyRange, Kv, KvTx, Mode, Row, RowValue};
use super::mentions;
use super::meta::encode;
use super::pair_logs::months;
use super::surroundings::Surroundings;
use super::tables::{SALES, index};
use super::writing::Writing;

/// The first version of the fold whose app has these rows. What it received before is looked at once.
const KNOWS_SALES: u32 = 12;

/// What was sold within this time, in ms, counts as sold lately.
const LATELY_MS: i64 = 92 * 24 * 3_600_000;

/// A row of `sales`, in the form of a row of `pairs`, so that the books read both alike.
#[derive(Serialize)]
struct SalesRow<'a> {
    facts: &'a PairFacts,
}

/// Of such a row, what was sold.
#[derive(Deserialize)]
struct SoldRow {
    facts: SoldFacts,
}

/// Of the [`PairFacts`] of such a row, its ticket.
#[derive(Deserialize)]
struct SoldFacts {
    #[serde(rename = "t", default)]
    tickets: Vec<SoldOnTicket>,
}

/// Of the [`TicketFacts`] of such a row, what was sold.
#[derive(Deserialize)]
struct SoldOnTicket {
    #[serde(rename = "s", default)]
    sold: Vec<SoldGoods>,
}

impl<K: Kv, S: Surroundings> KvStore<K, S> {
    /// The rows of the tickets on which goods were sold and of which something was sold or paid in these months
    /// (`YYYY-MM`), each once. They are read like those of [`KvStore::books`], which may have the same tickets.
    ///
    /// # Errors
    /// When the database fails.
    pub async fn sales(&self, months: &[String]) -> Result<Vec<String>, StoreError> {
        let tx = self.kv.begin(&[SALES], Mode::Read).await?;
        let rows = tx.by_index(SALES, index::MONTH, months).await?;
        let rows = rows.into_iter().flatten();
        let once: BTreeMap<String, RowValue> = inserted(rows.map(|row| (row.key, row.value)));
        let texts = once.into_values().filter_map(|value| match value {
            RowValue::Text(text) => Some(text),
            RowValue::Bytes(_) => None,
        });
        Ok(texts.collect())
    }

    /// The goods that were sold over the counter in the last three months, each name once, as it was sold last. What
    /// was sold last comes first.
    ///
    /// # Errors
    /// When the database fails.
    pub async fn sold_lately(&self) -> Result<Vec<SoldGoods>, StoreError> {
        let now = self.around.wall();
        let since = UnixMs(now.0.saturating_sub(LATELY_MS));
        let rows = self.sales(&months(since, now)).await?;
        let read = rows.iter().filter_map(|row| serde_json::from_str(row).ok());
        let tickets = read.flat_map(|SoldRow { facts }| facts.tickets);
        let mut all: Vec<SoldGoods> = tickets.flat_map(|ticket| ticket.sold).collect();
        all.retain(|sold| sold.at.utc() >= since);
        all.sort_by_key(|sold| std::cmp::Reverse(sold.at));
        let mut names = BTreeSet::new();
        all.retain(|sold| names.insert(sold.what.clone()));
        Ok(all)
    }
}

/// The row of a ticket with these entries of its own; `None` if no goods were ever sold on it. A ticket whose goods were
/// taken back keeps its row: what was paid and given back on it stays in the books.
fn row(ticket: SubjectId, own: &[&ReceivedEntry]) -> Option<Row> {
    let facts = TicketFacts::of(ticket, &TicketState::of(own.iter().copied()));
    let is_sale = |received: &&ReceivedEntry| received.entry.kind == "sold" && !received.entry.is_blank();
    if facts.sold.is_empty() && !own.iter().any(is_sale) {
        return None;
    }
    let facts = PairFacts::of_ticket(facts);
    let mut row = Row::text(ticket.to_string(), encode(&SalesRow { facts: &facts }));
    let months = facts.months().into_iter();
    row.indexed = months.map(|month| (index::MONTH, month)).collect();
    Some(row)
}

/// The tickets whose row a batch may have left out of date: those on which goods were sold, and those that have a row.
pub(super) async fn affected<T: KvTx>(tx: &T, touched: &Touched) -> Result<BTreeSet<SubjectId>, StoreError> {
    let others = touched.tickets.difference(&touched.sold_on);
    let keys: Vec<_> = others.map(SubjectId::to_string).collect();
    let mut affected = touched.sold_on.clone();
    let known = stored(tx, &keys).await?;
    affected.extend(known.keys().filter_map(|key| key.parse::<SubjectId>().ok()));
    Ok(affected)
}

/// The tickets to fold afresh after an update of the app from this version of the fold.
pub(super) async fn after_update<T: KvTx>(tx: &T, from: u32) -> Result<BTreeSet<SubjectId>, StoreError> {
    let rows = tx.after(SALES, "", u32::MAX).await?;
    let mut tickets: BTreeSet<SubjectId> =
        inserted(rows.iter().filter_map(|row| row.key.parse::<SubjectId>().ok()));
    if from < KNOWS_SALES {
        mentions::each_entry(tx, &|text| text.contains("sold"), &mut |received| {
            if received.entry.kind == "sold" {
                tickets.insert(received.entry.subject.id);
            }
        })
        .await?;
    }
    Ok(tickets)
}

/// Folds these tickets afresh, and writes those rows that change.
pub(super) async fn refold<T: KvTx>(
    writing: &Writing<T>,
    tickets: &BTreeSet<SubjectId>,
) -> Result<(), StoreError> {
    if tickets.is_empty() {
        return Ok(());
    }
    let ids: Vec<_> = tickets.iter().copied().collect();
    let keys: Vec<_> = ids.iter().map(SubjectId::to_string).collect();
    let mut before = stored(writing.tx(), &keys).await?;
    let about = writing.lookup.about(&ids).await?;
    for ((id, key), entries) in ids.into_iter().zip(keys).zip(about) {
        // The other entries only link to it.
        let ticket = Subject::new(SubjectKind::Ticket, id);
        let own = entries.iter().filter(|received| received.entry.subject == ticket);
        match (row(id, &own.collect::<Vec<_>>()), before.remove(&key)) {
            (Some(now), Some(before)) if now.value == before.value => {}
            (Some(now), _) => writing.tx().put(SALES, now),
            (None, Some(_)) => writing.tx().delete(SALES, &key),
            (None, None) => {}
        }
    }
    Ok(())
}

/// Those of these tickets that have a row. The keys must be in order.
pub(super) async fn stored<T: KvTx>(tx: &T, keys: &[String]) -> Result<BTreeMap<String, Row>, StoreError> {
    let Some(span) = KeyRange::over(keys) else {
        return Ok(BTreeMap::new());
    };
    // Few tickets have a row, so that all rows of a range are usually fewer than the keys in it.
    let rows = if tx.count_within(SALES, span).await? <= keys.len() as u64 {
        tx.within(SALES, span).await?
    } else {
        tx.get_many(SALES, keys).await?.into_iter().flatten().collect()
    };
    let wanted = rows
        .into_iter()
        .filter(|row| keys.binary_search(&row.key).is_ok());
    Ok(inserted(wanted.map(|row| (row.key.clone(), row))))
}
