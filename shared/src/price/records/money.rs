//! The money of a ticket.

use serde::{Deserialize, Serialize};

use super::At;
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
}

impl TicketFacts {
    /// The facts from the state of a ticket. A negative payment, which no correct app writes, counts as 0.
    pub fn of(ticket: SubjectId, state: &TicketState) -> Self {
        let money = state.payments.iter().map(|item| Money {
            minor: bill::paid(&item.body),
            what: item.body.what.clone(),
            at: item.at.into(),
            person: item.person,
        });
        Self {
            ticket,
            money: money.collect(),
            tax: state.tax(),
        }
    }
}
