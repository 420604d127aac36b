//! The money of a ticket, and the goods sold on it.

use serde::{Deserialize, Serialize};

use super::At;
use super::left_out::{is_one, one};
use crate::log::body::Paid;
use crate::log::entry::{PersonId, SubjectId};
use crate::log::fold::TicketState;
use crate::price::bill;
use crate::price::minor::Minor;

/// One payment.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Money {
    /// The amount, in minor units; negative for a refund.
    #[serde(rename = "m")]
    pub minor: Minor,
    /// What the payment was for.
    #[serde(rename = "w")]
    pub what: Paid,
    /// When.
    #[serde(rename = "a")]
    pub at: At,
    /// The person who took it.
    #[serde(rename = "p", default, skip_serializing_if = "Option::is_none")]
    pub person: Option<PersonId>,
}

/// Goods sold over the counter.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct SoldGoods {
    /// What, in the shop's words.
    #[serde(rename = "w")]
    pub what: String,
    /// How many.
    #[serde(rename = "n", default = "one", skip_serializing_if = "is_one")]
    pub count: u32,
    /// The price of all of them, before any tax that is added, in minor units.
    #[serde(rename = "m", default, skip_serializing_if = "Minor::is_zero")]
    pub minor: Minor,
    /// When.
    #[serde(rename = "a")]
    pub at: At,
    /// The person who sold them.
    #[serde(rename = "p", default, skip_serializing_if = "Option::is_none")]
    pub person: Option<PersonId>,
}

/// What the books keep of a ticket. Its jobs name it: see [`JobFacts::ticket`](super::JobFacts::ticket).
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct TicketFacts {
    /// The ticket.
    #[serde(rename = "t")]
    pub ticket: SubjectId,
    /// The payments, in order.
    #[serde(rename = "m", default, skip_serializing_if = "Vec::is_empty")]
    pub money: Vec<Money>,
    /// The rate of tax agreed on it, as in [`TAX`](crate::log::body::field::TAX).
    #[serde(rename = "x", default, skip_serializing_if = "Option::is_none")]
    pub tax: Option<i64>,
    /// Goods sold over the counter, in order.
    #[serde(rename = "s", default, skip_serializing_if = "Vec::is_empty")]
    pub sold: Vec<SoldGoods>,
}

impl TicketFacts {
    /// The facts from the state of a ticket. A negative payment and a negative or implausible price of goods, which no
    /// correct app writes, count as 0.
    pub fn of(ticket: SubjectId, state: &TicketState) -> Self {
        let money = state.payments.iter().map(|item| Money {
            minor: bill::paid(&item.body),
            what: item.body.what.clone(),
            at: item.at.into(),
            person: item.person,
        });
        let sold = state.sold.iter().map(|item| SoldGoods {
            what: item.body.what.clone(),
            count: item.body.count,
            minor: bill::goods(&item.body),
            at: item.at.into(),
            person: item.person,
        });
        Self {
            ticket,
            money: money.collect(),
            tax: state.tax(),
            sold: sold.collect(),
        }
    }

    /// When something was paid or sold on it, in no order.
    pub(super) fn moments(&self) -> impl Iterator<Item = At> {
        let paid = self.money.iter().map(|money| money.at);
        paid.chain(self.sold.iter().map(|sold| sold.at))
    }
}
