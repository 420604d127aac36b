//! The entries about a material: what was counted, ordered and delivered. What was used is not among them: it follows
//! from the steps of the jobs.

use serde::{Deserialize, Serialize};
use uuid::Uuid;

use crate::log::entry::{EntryId, SubjectId};
use crate::price::minor::Minor;

/// The shop's shelf. Every material names it in the [`Opened::customer`](super::Opened::customer) of its first entry.
/// That link is indexed by every version of the app and of the server, so all materials are found with one look-up,
/// also those that arrived while the device had an app that does not know the kind. No entry is about it otherwise.
pub const SHELF: SubjectId = SubjectId(Uuid::from_u128(0x7368_656c_6600_8000_8000_0000_0000_0000));

/// Somebody has counted how much of a material is there. About a material.
///
/// A count adds its difference for good: it replaces no earlier count. In [`Entry::over`](crate::log::Entry::over) it
/// names the latest counts that its device knew, so that counts that did not know each other can be told.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Counted {
    /// What was seen less what the device had expected, in thousandths of the unit.
    pub difference_thousandths: i64,
    /// What was seen, in thousandths of the unit.
    pub on_hand_thousandths: i64,
}

/// An order was sent to the supplier. About a material. It is called off by retracting it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Ordered {
    /// How much was ordered, in thousandths of the unit.
    pub thousandths: u32,
    /// A remark, for example where it was ordered.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub note: String,
}

/// Some of a material has arrived. About a material.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Delivery {
    /// The order that it fulfils, wholly or in part; absent if it was bought without one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub order: Option<EntryId>,
    /// How much has arrived, in thousandths of the unit.
    pub thousandths: u32,
    /// What a unit of it cost, without tax, in minor units.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub cost_minor: Option<Minor>,
}
