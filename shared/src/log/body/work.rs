//! At the bench: agreed work, what was done, and what has to wait.

use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};

use super::common::{Blob, Shows, Side};
use crate::log::entry::EntryId;
use crate::log::open::open_enum;

/// One line of agreed work on a job. A changed line names the old one in `over`; an extra is a new line.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Agreed {
    /// The operation, a word of the trade list or the shop's own.
    pub operation: String,
    /// Which shoe.
    pub side: Side,
    /// Price in the currency's minor unit (cents); 0 for no charge.
    pub price_minor: i64,
    /// Why it is at no charge, and what it would have cost.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub gift: Option<Gift>,
    /// The damage it answers, for an extra.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub damage: Option<EntryId>,
}

impl Agreed {
    /// Work on both shoes at a price in minor units.
    pub fn at(operation: impl Into<String>, price_minor: i64) -> Self {
        Self {
            operation: operation.into(),
            side: Side::Both,
            price_minor,
            gift: None,
            damage: None,
        }
    }

    /// Work on both shoes at no charge, for this reason, worth so much in minor units.
    pub fn given(operation: impl Into<String>, why: GiftWhy, worth_minor: i64) -> Self {
        Self {
            gift: Some(Gift { why, worth_minor }),
            ..Self::at(operation, 0)
        }
    }
}

open_enum!(
    /// Why work is done at no charge.
    GiftWhy {
        /// The agreed work could not be done without it.
        Needed = "needed",
        /// The repairer chose to.
        MyChoice = "my_choice",
    }
);

/// Work at no charge.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Gift {
    /// Why.
    pub why: GiftWhy,
    /// What it is worth, in the currency's minor unit.
    pub worth_minor: i64,
}

/// An agreed line that will not be done after all.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Skipped {
    /// The operation.
    pub operation: String,
    /// Why, if said.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub note: String,
}

/// A step that has to be made again: it stays in the history and its operation is open once more.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Redo {
    /// The step.
    pub step: EntryId,
    /// What was cut or used twice, and so is scrap; empty if nothing.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub scrap: String,
}

/// The order in which a job's remaining work is to be done, where it is not the usual one. Replaces the former.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Order {
    /// Operations, next first. Work that is not named comes after, in the usual order.
    pub operations: Vec<String>,
}

open_enum!(
    /// What a job waits for.
    WaitFor {
        /// Cement, dye, ink or a stiffener to dry or set.
        Drying = "drying",
        /// Leather or a part that is ordered.
        Material = "material",
    }
);

/// Time that must pass before the next step. It began when the entry was made.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Wait {
    /// What for.
    pub what: WaitFor,
    /// How long, in minutes; absent until somebody says that it is over.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub minutes: Option<u32>,
    /// The operation it follows, or what was ordered.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub note: String,
}

/// A wait that is over: the glue is dry, the leather has come.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct WaitOver {
    /// The wait.
    pub wait: EntryId,
}

/// A photograph of a job.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Photo {
    /// The picture, 2048 px on the long edge at most.
    pub full: Blob,
    /// A small copy for lists.
    pub thumb: Blob,
    /// What it shows.
    pub shows: Shows,
    /// The operation it belongs to, for [`Shows::Step`].
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub operation: Option<String>,
    /// The entry it belongs to: the damage it shows.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub of: Option<EntryId>,
}

impl Photo {
    /// A photograph that belongs to no operation and no other entry.
    pub fn new(full: Blob, thumb: Blob, shows: Shows) -> Self {
        Self {
            full,
            thumb,
            shows,
            operation: None,
            of: None,
        }
    }
}

/// Something done on a job.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Step {
    /// The operation.
    pub operation: String,
    /// Which shoe.
    pub side: Side,
    /// A word about it, for colleagues and the next time.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub note: String,
    /// Minutes of attended work, if noted.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub minutes: Option<u32>,
    /// What was used, where it was said; else the shop's list counts.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub used: Vec<Used>,
}

/// Material that a step took from the shop's list.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Used {
    /// What it is called on the list.
    pub material: String,
    /// How much of it, in thousandths of its unit, without what is wasted.
    pub thousandths: u32,
}

/// What a step took, said afterwards: the step itself, and when it was made, stay as they are. About a job; a later entry on
/// the same step replaces this one.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Spent {
    /// The step.
    pub step: EntryId,
    /// Minutes of attended work; absent where nobody said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub minutes: Option<u32>,
    /// What was used; empty where the shop's list counts.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub used: Vec<Used>,
}

/// What was measured on the pair, what was reckoned from it, and what it says to do. About a job; a later entry replaces
/// this one.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Measured {
    /// Which helper of the bench asked: `nails`, `thread`, `dye`, …
    pub what: String,
    /// The operation it served; empty for none.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub operation: String,
    /// What it said to do, in words.
    pub say: String,
    /// What was asked and answered, by the name of the field, which carries its unit (`block_mm`): numbers and words.
    #[serde(default, skip_serializing_if = "Map::is_empty")]
    pub given: Map<String, Value>,
}

/// A remark on any subject, spoken or written.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Note {
    /// What was written; may be empty beside a voice note.
    #[serde(default)]
    pub text: String,
    /// What was said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub voice: Option<Blob>,
}
