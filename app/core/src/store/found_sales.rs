//! Finding tickets without a pair: goods that were sold over the counter alone.

use std::collections::BTreeMap;

use shared::log::body::Body;
use shared::log::fold::{CustomerState, TicketState};
use shared::log::{ReceivedEntry, Subject, SubjectId, SubjectKind, inserted};

use super::KvStore;
use super::error::StoreError;
use super::kv::{Kv, KvTx, Mode, Row};
use super::lookup::Lookup;
use super::sales;
use super::surroundings::Surroundings;
use super::tables::SALES;

/// A ticket without a pair, on which goods were sold.
#[derive(Debug, Clone, PartialEq)]
pub struct SaleAlone {
    /// The ticket.
    pub ticket: SubjectId,
    /// What was sold on it, and what else is said of it.
    pub state: TicketState,
    /// The customer; without anything where none is named.
    pub customer: CustomerState,
}

impl<K: Kv, S: Surroundings> KvStore<K, S> {
    /// At most `limit` tickets without a pair with these words in the names of the goods sold on them or in the name and
    /// telephone number of their customer. What was sold last comes first. Without words: every such ticket.
    ///
    /// # Errors
    /// When the database fails.
    pub async fn search_sales(&self, words: &str, limit: usize) -> Result<Vec<SaleAlone>, StoreError> {
        let tickets = self.in_search_lines(|index| index.find_tickets(words)).await?;
        let lookup = self.lookup().await?;
        let mut found: Vec<(SubjectId, TicketState)> = Vec::new();
        for some in tickets.chunks(limit.max(1)) {
            found.extend(alone(&lookup, some).await?);
            if found.len() >= limit {
                break;
            }
        }
        found.truncate(limit);
        with_customers(&lookup, found).await
    }

    /// The tickets without a pair among the next `limit` tickets on which goods were sold, after this one in order of id
    /// (`None`: from the first on); and where to go on, `None` at the end.
    ///
    /// # Errors
    /// When the database fails.
    pub async fn sales_after(
        &self,
        after: Option<SubjectId>,
        limit: u32,
    ) -> Result<(Vec<SaleAlone>, Option<SubjectId>), StoreError> {
        let after = after.map(|ticket| ticket.to_string()).unwrap_or_default();
        let tx = self.kv.begin(&[SALES], Mode::Read).await?;
        let rows = tx.after(SALES, &after, limit).await?;
        drop(tx);
        let id = |row: &Row| row.key.parse().ok();
        let tickets: Vec<SubjectId> = rows.iter().filter_map(id).collect();
        let lookup = self.lookup().await?;
        let found = alone(&lookup, &tickets).await?;
        Ok((with_customers(&lookup, found).await?, tickets.last().copied()))
    }
}

/// Those of these tickets that have no pair, in this order.
async fn alone<T: KvTx>(
    lookup: &Lookup<T>,
    tickets: &[SubjectId],
) -> Result<Vec<(SubjectId, TicketState)>, StoreError> {
    let mut ids = tickets.to_vec();
    ids.sort_unstable();
    let about = lookup.about(&ids).await?;
    let about: BTreeMap<SubjectId, Vec<ReceivedEntry>> = inserted(ids.into_iter().zip(about));
    let alone = |id: &SubjectId| Some((*id, without_pair(*id, about.get(id)?)?));
    Ok(tickets.iter().filter_map(alone).collect())
}

/// These tickets with their customers.
async fn with_customers<T: KvTx>(
    lookup: &Lookup<T>,
    found: Vec<(SubjectId, TicketState)>,
) -> Result<Vec<SaleAlone>, StoreError> {
    let named = found.iter().filter_map(|(_, state)| state.customer());
    let customers = sales::customers(lookup, named).await?;
    let sale = |(ticket, state): (SubjectId, TicketState)| {
        let customer = state.customer().and_then(|id| customers.get(&id));
        SaleAlone {
            ticket,
            customer: customer.cloned().unwrap_or_default(),
            state,
        }
    };
    Ok(found.into_iter().map(sale).collect())
}

/// The state of a ticket with these entries about it; `None` if it has a pair.
fn without_pair(ticket: SubjectId, about: &[ReceivedEntry]) -> Option<TicketState> {
    let has_job = about.iter().any(|received| {
        let of_job = received.entry.subject.kind == SubjectKind::Job;
        of_job && matches!(Body::of(&received.entry), Body::Opened(opened) if opened.ticket == Some(ticket))
    });
    let subject = Subject::new(SubjectKind::Ticket, ticket);
    let own = about.iter().filter(|received| received.entry.subject == subject);
    (!has_job).then(|| TicketState::of(own))
}
