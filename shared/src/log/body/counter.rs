//! The entries made at the counter: opening a subject, its plain fields, payments, complaints, the final check, the
//! hand-over, and who works in the shop.

use serde::{Deserialize, Serialize};
use serde_json::Value;

use crate::log::body::OperationCode;
use crate::log::entry::{EntryId, PersonId, SubjectId};
use crate::log::open::open_enum;
use crate::price::minor::Minor;

/// Opens a subject and names the subjects it belongs to.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Opened {
    /// The pair of a job.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pair: Option<SubjectId>,
    /// The ticket of a job.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ticket: Option<SubjectId>,
    /// The customer of a ticket or a pair; of a material, the [`SHELF`](super::SHELF).
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
    /// What a payment was for.
    Paid {
        /// A part of the price, paid at drop-off.
        Deposit = "deposit",
        /// The rest of the price, or all of it.
        Balance = "balance",
        /// Money given back to the customer.
        Refund = "refund",
    }
);

/// Money paid on a ticket, by the customer or back to the customer.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Payment {
    /// The amount in the currency's minor unit; never negative, also for a refund.
    pub minor: Minor,
    /// What the payment was for.
    pub what: Paid,
}

/// Goods sold over the counter on a ticket, beside the work or alone: laces, trees, polish, a sharpened knife.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Sold {
    /// What, in the shop's words.
    pub what: String,
    /// How many; at least one.
    pub count: u32,
    /// The price of all of them, in the currency's minor unit.
    pub price_minor: Minor,
}

open_enum!(
    /// The cause of a complaint.
    Cause {
        /// The shop's own work.
        OurWork = "our_work",
        /// The material that the shop used.
        Material = "material",
        /// The cement let go.
        Bond = "bond",
        /// A seam opened.
        Seam = "seam",
        /// It does not fit as before.
        Fit = "fit",
        /// The colour is not the one that was wanted, or comes off.
        Colour = "colour",
        /// It was not done as agreed.
        NotAsAgreed = "not_as_agreed",
        /// Damage that nobody had seen.
        HiddenDamage = "hidden_damage",
        /// How the pair was worn or kept.
        Use = "use",
        /// Ordinary wear: the part reached the end of its life.
        Wear = "wear",
        /// Any other cause.
        Elsewhere = "other",
    }
);

/// Says that a job repeats earlier work at no charge because of a complaint. Its price never counts as revenue.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Complaint {
    /// The earlier job.
    pub job: SubjectId,
    /// The step it concerns, if one was named.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub step: Option<EntryId>,
    /// The operation it concerns.
    pub operation: OperationCode,
    /// The cause, as far as it is known; a later entry replaces this one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub cause: Option<Cause>,
    /// What the customer said.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub note: String,
}

/// The final check is finished: every line of the shop's list was ticked. The pair is ready from then on.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Checked {
    /// The lines that were ticked, in the words of the list.
    pub ticked: Vec<String>,
    /// Whether one of them says that agreed work is done which was not noted.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub vouched: bool,
}

/// The pair has left the shop.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct HandedOver {
    /// Whether the pair was given back as it was, because the work was not wanted or not possible.
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
    /// The person's id, as entries name it.
    pub person: PersonId,
    /// The person's name.
    pub name: String,
    /// What they may see and do.
    pub role: Role,
    /// Whether the person no longer works here. The name stays on the entries the person made.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub left: bool,
}
