//! Finding customers whom no pair names, and the names of all customers.

use shared::log::SubjectId;
use shared::log::fold::CustomerState;

use super::KvStore;
use super::error::StoreError;
use super::kv::{Kv, KvTx, Mode};
use super::sales;
use super::summaries::PairRow;
use super::surroundings::Surroundings;
use super::tables::PAIRS;

/// Rows read at a time.
const PAGE: u32 = 1000;

/// A customer whom no pair names.
#[derive(Debug, Clone, PartialEq)]
pub struct CustomerAlone {
    /// The customer.
    pub id: SubjectId,
    /// What is said of the customer.
    pub state: CustomerState,
}

impl<K: Kv, S: Surroundings> KvStore<K, S> {
    /// At most `limit` customers whom no pair names, with these words in their name and telephone numbers: see
    /// [`SearchIndex::find_customers`](super::search::SearchIndex::find_customers). Without words: every such customer.
    ///
    /// # Errors
    /// When the database fails.
    pub async fn search_customers(
        &self,
        words: &str,
        limit: usize,
    ) -> Result<Vec<CustomerAlone>, StoreError> {
        let mut ids = self.in_search_lines(|index| index.find_customers(words)).await?;
        ids.truncate(limit);
        let lookup = self.lookup().await?;
        let mut states = sales::customers(&lookup, ids.iter().copied()).await?;
        let found = ids.into_iter().filter_map(|id| {
            let state = states.remove(&id)?;
            Some(CustomerAlone { id, state })
        });
        Ok(found.collect())
    }

    /// The name and the telephone numbers of every customer: of those whom pairs name, once for each pair, the first
    /// number; of the others all numbers, separated by commas. It reads every row of a pair.
    ///
    /// # Errors
    /// When the database fails.
    pub async fn customer_names(&self) -> Result<Vec<(String, String)>, StoreError> {
        let mut names = Vec::new();
        let mut after = String::new();
        loop {
            let tx = self.kv.begin(&[PAIRS], Mode::Read).await?;
            let rows = tx.after(PAIRS, &after, PAGE).await?;
            drop(tx);
            let Some(last) = rows.last() else { break };
            after.clone_from(&last.key);
            let named = rows.iter().filter_map(PairRow::read).map(|pair| pair.summary);
            names.extend(named.map(|summary| (summary.customer, summary.phone)));
        }
        for CustomerAlone { state, .. } in self.search_customers("", usize::MAX).await? {
            let numbers = [state.phone(), state.phone_second()];
            let numbers: Vec<&str> = numbers.into_iter().flatten().collect();
            names.push((state.name().unwrap_or_default().to_owned(), numbers.join(",")));
        }
        Ok(names)
    }
}
