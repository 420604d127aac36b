//! Goods sold over the counter: their drafts, and the rows that the store keeps of them.

use std::collections::{BTreeMap, BTreeSet};

use app_core::store::kv::Row;
use app_core::store::memory::Memory;
use app_core::store::tables;
use shared::log::body::{Body, Opened, Paid, Payment, Retracted, Sold};
use shared::log::fold::{CustomerState, TicketState};
use shared::log::{Draft, ReceivedEntry, Subject, SubjectKind};
use shared::price::minor::Minor;
use shared::price::records::{PairFacts, TicketFacts};

/// Goods sold on a ticket.
pub(crate) fn sell(ticket: &Subject, what: &str, minor: i64) -> Draft {
    let sold = Sold {
        what: what.to_owned(),
        count: 1,
        price_minor: Minor(minor),
    };
    Draft::new(ticket.clone(), Body::Sold(sold))
}

/// A new ticket, and goods sold on it.
pub(crate) fn sale(ticket: &Subject, what: &str, minor: i64) -> Vec<Draft> {
    let opened = Draft::new(ticket.clone(), Body::Opened(Opened::default()));
    vec![opened, sell(ticket, what, minor)]
}

/// A payment at the counter.
pub(crate) fn pay(ticket: &Subject, minor: i64) -> Draft {
    let payment = Payment {
        minor: Minor(minor),
        what: Paid::Balance,
    };
    Draft::new(ticket.clone(), Body::Payment(payment))
}

/// Takes an entry back.
pub(crate) fn take_back(held: &ReceivedEntry) -> Draft {
    let back = Retracted { entry: held.entry.id };
    Draft::new(held.entry.subject.clone(), Body::Retracted(back))
}

/// A row of sales: what the books read of the ticket, and the months under which it is found.
pub(crate) type SalesOf = (PairFacts, BTreeSet<String>);

/// The rows of sales by ticket, folded from all entries without using anything derived that is stored.
pub(crate) fn fresh_sales(kv: &Memory) -> BTreeMap<String, SalesOf> {
    let mut tickets: BTreeMap<_, Vec<ReceivedEntry>> = BTreeMap::new();
    for held in super::held(kv) {
        if held.entry.subject.kind == SubjectKind::Ticket {
            tickets.entry(held.entry.subject.id).or_default().push(held);
        }
    }
    // Also if the goods were taken back.
    let is_sale = |held: &ReceivedEntry| held.entry.kind == "sold" && !held.entry.is_blank();
    let sold = tickets.iter().filter(|(_, own)| own.iter().any(is_sale));
    let sold = sold.map(|(id, own)| TicketFacts::of(*id, &TicketState::of(own)));
    let row = |facts: TicketFacts| {
        let key = facts.ticket.to_string();
        let facts = PairFacts::of_ticket(facts);
        let months = facts.months();
        (key, (facts, months))
    };
    sold.map(row).collect()
}

/// The search lines of the tickets on which goods are sold, by ticket, folded from all entries without using anything
/// derived that is stored.
pub(crate) fn fresh_sale_lines(kv: &Memory) -> BTreeMap<String, String> {
    let entries = super::held(kv);
    let own = |id| entries.iter().filter(move |held| held.entry.subject.id == id);
    let tickets = entries.iter().filter(|held| held.entry.kind == "sold");
    let tickets: BTreeSet<_> = tickets.map(|held| held.entry.subject.id).collect();
    let line = |ticket| {
        let state = TicketState::of(own(ticket));
        let customer = state
            .customer()
            .map(|id| CustomerState::of(own(id)))
            .unwrap_or_default();
        let phone = customer.phone().unwrap_or_default();
        let digits: String = phone.chars().filter(char::is_ascii_digit).collect();
        let said = [customer.name().unwrap_or_default(), &digits];
        let goods = state.sold.iter().map(|item| item.body.what.as_str());
        let words: Vec<&str> = said
            .into_iter()
            .chain(goods)
            .filter(|word| !word.is_empty())
            .collect();
        let text = format!("\u{1d}{}", words.join(" ").to_lowercase());
        (!state.sold.is_empty()).then(|| (ticket.to_string(), text))
    };
    tickets.into_iter().filter_map(line).collect()
}

/// The rows of sales as they are stored.
pub(crate) fn stored_sales(kv: &Memory) -> BTreeMap<String, SalesOf> {
    let read = |row: Row| {
        let months = row
            .indexed
            .iter()
            .filter(|(name, _)| *name == tables::index::MONTH);
        let months = months.map(|(_, month)| month.clone()).collect();
        (row.key.clone(), (facts_in(row.as_text().unwrap()), months))
    };
    kv.rows(tables::SALES).into_iter().map(read).collect()
}

/// The facts in a row that the books read.
pub(crate) fn facts_in(row: &str) -> PairFacts {
    let row: serde_json::Value = serde_json::from_str(row).unwrap();
    serde_json::from_value(row["facts"].clone()).unwrap()
}
