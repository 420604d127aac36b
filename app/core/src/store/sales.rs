//! One row for every ticket on which goods were sold over the counter, kept equal to a fresh fold of all stored
//! entries.
//!
//! The books need it, because such a ticket may have no pair, in whose row it would be. So does the search: the row has
//! the place and the text of the ticket's search line, and is indexed by the customer who is named in it. A batch of up to
//! a page updates its tickets in its own transaction; after a larger one they follow with the summaries.

use std::collections::{BTreeMap, BTreeSet};

use serde::{Deserialize, Serialize};
use shared::log::fold::{CustomerState, TicketState};
use shared::log::{ReceivedEntry, Subject, SubjectId, SubjectKind, UnixMs, inserted};
use shared::price::records::{PairFacts, SoldGoods, TicketFacts};

use super::KvStore;
use super::change::Touched;
use super::error::StoreError;
use super::kv::{KeyRange, Kv, KvTx, Mode, Row, RowValue};
use super::lookup::Lookup;
use super::mentions;
use super::meta::encode;
use super::pair_logs::months;
use super::range_scan::{self, Overread};
use super::search::{SearchChange, SearchLine, search_text};
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
    #[serde(skip_serializing_if = "Option::is_none")]
    search: Option<&'a SalesSearch>,
}

/// The search line of a ticket on which goods are sold.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
struct SalesSearch {
    /// Its place.
    slot: u64,
    /// When goods were last sold.
    newest: UnixMs,
    /// What it is found by, as it was written: the customer and the goods.
    text: String,
    /// The customer who is named in it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    customer: Option<SubjectId>,
}

impl SalesSearch {
    /// That of a stored row; `None` if it has none, as a row of an earlier app.
    fn read(row: &Row) -> Option<Self> {
        /// Of such a row, its search line.
        #[derive(Deserialize)]
        struct SearchOfRow {
            #[serde(default)]
            search: Option<SalesSearch>,
        }
        let row: SearchOfRow = serde_json::from_str(row.as_text()?).ok()?;
        row.search
    }
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

/// A ticket on which goods were once sold, folded.
struct FoldedSale {
    ticket: SubjectId,
    state: TicketState,
}

impl FoldedSale {
    /// The ticket with these entries about it; `None` if no goods were ever sold on it. A ticket whose goods were taken back
    /// keeps its row: what was paid and given back on it stays in the books.
    fn of(ticket: SubjectId, about: &[ReceivedEntry]) -> Option<Self> {
        // The other entries only link to it.
        let subject = Subject::new(SubjectKind::Ticket, ticket);
        let own = about.iter().filter(|received| received.entry.subject == subject);
        let own: Vec<&ReceivedEntry> = own.collect();
        let is_sale = |received: &&ReceivedEntry| received.entry.kind == "sold" && !received.entry.is_blank();
        let state = TicketState::of(own.iter().copied());
        (!state.sold.is_empty() || own.iter().any(is_sale)).then_some(Self { ticket, state })
    }

    /// The customer, if the ticket needs a search line that names one.
    fn customer(&self) -> Option<SubjectId> {
        self.state.customer().filter(|_| !self.state.sold.is_empty())
    }

    /// When goods were last sold on it; `None` if all of them were taken back.
    fn last_sold(&self) -> Option<UnixMs> {
        self.state.sold.iter().map(|item| item.at.utc).max()
    }

    /// What it is found by: the customer's name and the digits of their telephone number, then the goods, on one line.
    fn text(&self, customer: Option<&CustomerState>) -> String {
        let phone = customer.and_then(CustomerState::phone).unwrap_or_default();
        let digits: String = phone.chars().filter(char::is_ascii_digit).collect();
        let name = customer.and_then(CustomerState::name).unwrap_or_default();
        let goods = self.state.sold.iter().map(|item| item.body.what.as_str());
        let words = [name, &digits].into_iter().chain(goods);
        search_text(words.flat_map(str::split_whitespace))
    }

    /// Its row, with this search line.
    fn row(&self, search: Option<&SalesSearch>) -> Row {
        let facts = PairFacts::of_ticket(TicketFacts::of(self.ticket, &self.state));
        let whole = SalesRow {
            facts: &facts,
            search,
        };
        let mut row = Row::text(self.ticket.to_string(), encode(&whole));
        let months = facts.months().into_iter();
        row.indexed = months.map(|month| (index::MONTH, month)).collect();
        let customer = search.and_then(|search| search.customer);
        row.indexed
            .extend(customer.map(|id| (index::REFS, id.to_string())));
        row
    }
}

/// The tickets whose row a batch may have left out of date: those on which goods were sold, those that have a row, and
/// those whose customer has changed.
pub(super) async fn affected<T: KvTx>(tx: &T, touched: &Touched) -> Result<BTreeSet<SubjectId>, StoreError> {
    let others = touched.tickets.difference(&touched.sold_on);
    let keys: Vec<_> = others.map(SubjectId::to_string).collect();
    let mut affected = touched.sold_on.clone();
    let known = stored(tx, &keys).await?;
    let customers: Vec<_> = touched.customers.iter().map(SubjectId::to_string).collect();
    let theirs = if customers.is_empty() {
        BTreeSet::new()
    } else {
        range_scan::keys(tx, (SALES, index::REFS), &customers, Overread::Little).await?
    };
    let keys = known.keys().chain(&theirs);
    affected.extend(keys.filter_map(|key| key.parse::<SubjectId>().ok()));
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

/// Folds these tickets afresh, and writes those rows and search lines that change.
pub(super) async fn refold<T: KvTx>(
    writing: &mut Writing<T>,
    tickets: &BTreeSet<SubjectId>,
) -> Result<(), StoreError> {
    if tickets.is_empty() {
        return Ok(());
    }
    let ids: Vec<_> = tickets.iter().copied().collect();
    let keys: Vec<_> = ids.iter().map(SubjectId::to_string).collect();
    let mut before = stored(writing.tx(), &keys).await?;
    let about = writing.lookup.about(&ids).await?;
    let folded = ids.into_iter().zip(about);
    let folded: Vec<_> = folded
        .map(|(id, about)| (id, FoldedSale::of(id, &about)))
        .collect();
    let named = folded.iter().filter_map(|(_, sale)| sale.as_ref()?.customer());
    let customers = customers(&writing.lookup, named).await?;
    let mut changes = Vec::new();
    for ((id, sale), key) in folded.into_iter().zip(keys) {
        let before = before.remove(&key);
        let known = before.as_ref().and_then(SalesSearch::read);
        let Some(sale) = sale else {
            changes.extend(known.map(|known| SearchChange::Gone(known.slot, id)));
            if before.is_some() {
                writing.tx().delete(SALES, &key);
            }
            continue;
        };
        let search = sale.last_sold().map(|newest| SalesSearch {
            newest,
            slot: known
                .as_ref()
                .map_or_else(|| writing.new_slot(), |known| known.slot),
            text: sale.text(sale.customer().and_then(|id| customers.get(&id))),
            customer: sale.customer(),
        });
        let row = sale.row(search.as_ref());
        if before.is_some_and(|before| before.value == row.value) {
            continue;
        }
        writing.tx().put(SALES, row);
        match (search, known) {
            (Some(search), _) => {
                let line = SearchLine::of_ticket(id, search.newest, &search.text);
                changes.push(SearchChange::Set(search.slot, line));
            }
            (None, Some(known)) => changes.push(SearchChange::Gone(known.slot, id)),
            (None, None) => {}
        }
    }
    writing.change_search(changes).await
}

/// The states of these customers, each from the entries of its own.
pub(super) async fn customers<T: KvTx>(
    lookup: &Lookup<T>,
    ids: impl IntoIterator<Item = SubjectId>,
) -> Result<BTreeMap<SubjectId, CustomerState>, StoreError> {
    let ids: BTreeSet<SubjectId> = inserted(ids);
    if ids.is_empty() {
        return Ok(BTreeMap::new());
    }
    let ids: Vec<_> = ids.into_iter().collect();
    let about = lookup.about(&ids).await?;
    let states = ids.into_iter().zip(about).map(|(id, about)| {
        let own = about.iter().filter(|received| received.entry.subject.id == id);
        (id, CustomerState::of(own))
    });
    Ok(inserted(states))
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
