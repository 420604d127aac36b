//! The money of a ticket.

use serde::{Deserialize, Serialize};

use super::At;
use crate::log::body::Paid;
use crate::log::entry::{PersonId, SubjectId};
use crate::log::fold::TicketState;
use crate::price::bill;

/// One payment.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Money {
    /// What changed hands, in minor units; negative for what was given back.
    #[serde(rename = "m")]
    pub minor: i64,
    /// What it was.
    #[serde(rename = "w")]
    pub what: Paid,
    /// When.
    #[serde(rename = "a")]
    pub at: At,
    /// Who took it.
    #[serde(rename = "p", default, skip_serializing_if = "Option::is_none")]
    pub person: Option<PersonId>,
}

/// What the books know of a ticket. The jobs on it name it: see [`JobFacts::ticket`](super::JobFacts::ticket).
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct TicketFacts {
    /// Which ticket.
    #[serde(rename = "t")]
    pub ticket: SubjectId,
    /// What was paid on it, in order.
    #[serde(rename = "m", default, skip_serializing_if = "Vec::is_empty")]
    pub money: Vec<Money>,
    /// The rate of tax agreed on it, as [`field::TAX`] writes it.
    #[serde(rename = "x", default, skip_serializing_if = "Option::is_none")]
    pub tax: Option<i64>,
}

impl TicketFacts {
    /// What a ticket's state says. A payment below nothing, which no app writes, counts as nothing.
    pub fn of(ticket: SubjectId, state: &TicketState) -> Self {
        let money = state.payments.iter().map(|item| Money {
            minor: bill::paid_minor(&item.body),
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
