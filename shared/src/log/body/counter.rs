//! Across the counter: what was brought, what was agreed of it as a whole, what was paid, and how it left.

use serde::{Deserialize, Serialize};
use serde_json::Value;

use crate::log::entry::{EntryId, PersonId, SubjectId};
use crate::log::open::open_enum;

/// Brings a subject to life and says what it hangs on.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Opened {
    /// The pair of a job.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pair: Option<SubjectId>,
    /// The ticket of a job.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ticket: Option<SubjectId>,
    /// The customer of a ticket or a pair.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub customer: Option<SubjectId>,
}

/// Sets one plain field of its subject; the fields in use are named in [`field`](super::field).
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Detail {
    /// Which field.
    pub field: String,
    /// Its value: text, a number, or whatever a newer app puts there.
    pub value: Value,
}

open_enum!(
    /// What a payment was.
    Paid {
        /// Left at drop-off.
        Deposit = "deposit",
        /// The rest, or all of it.
        Balance = "balance",
        /// Given back.
        Refund = "refund",
    }
);

/// Money that changed hands on a ticket.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Payment {
    /// In the currency's minor unit; never negative.
    pub minor: i64,
    /// What it was.
    pub what: Paid,
}

open_enum!(
    /// Why a pair came back.
    Cause {
        /// Something the shop did.
        OurWork = "our_work",
        /// What the shop put on.
        Material = "material",
        /// It wore out in its time.
        Wear = "wear",
        /// Anything else.
        Elsewhere = "other",
    }
);

/// Says that a job makes good earlier work at no charge. Its cost never counts as revenue.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Complaint {
    /// The earlier job.
    pub job: SubjectId,
    /// The step it concerns, if one was named.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub step: Option<EntryId>,
    /// The operation it concerns.
    pub operation: String,
    /// Why, as far as is known; a later entry replaces this one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub cause: Option<Cause>,
    /// What the customer said.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub note: String,
}

/// The final check, finished: everything on the shop's list was ticked. The pair is ready.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Checked {
    /// What was ticked, as the list said it.
    pub ticked: Vec<String>,
}

/// The pair has left the shop.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct HandedOver {
    /// Given back as it was, because the work was not wanted or not possible.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub unrepaired: bool,
}

open_enum!(
    /// What a person may see and do.
    Role {
        /// Everything.
        Repairer = "repairer",
        /// Neither prices nor earnings, and no erasing.
        Helper = "helper",
    }
);

/// Somebody who works in the shop. About the shop; a later entry on the same person replaces this one.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Person {
    /// Who, as entries name them.
    pub person: PersonId,
    /// What they are called.
    pub name: String,
    /// What they may see and do.
    pub role: Role,
    /// Works here no more; their name stays on what they did.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub left: bool,
}
