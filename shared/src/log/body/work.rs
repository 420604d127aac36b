//! The entries made at the bench: agreed work, what was done, and what has to wait.

use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};

use super::common::{Blob, Shows, Side};
use super::operation_code::{OperationCode, none_if_empty};
use crate::log::entry::{EntryId, SubjectId};
use crate::log::open::open_enum;
use crate::price::minor::Minor;
use crate::text::unless_empty;

/// One line of agreed work on a job. A changed line names the old one in `over`; extra work is a new line.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Agreed {
    /// The operation.
    pub operation: OperationCode,
    /// Which shoe.
    pub side: Side,
    /// Price in the currency's minor unit (cents); 0 for no charge.
    pub price_minor: Minor,
    /// Why it is at no charge, and what it would have cost.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub gift: Option<Gift>,
    /// For extra work, the damage it repairs.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub damage: Option<EntryId>,
    /// Which variant of the operation, a word of its row in [`crate::trade::operations`] or the shop's own: rubber or
    /// leather, one side or both. Empty for none in particular. Absent in a line that an older app wrote: a line that
    /// replaces another one then inherits it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub variant: Option<String>,
    /// How many pieces, for an operation that is priced for each piece: two zips, three holes. Absent means one; a line
    /// that replaces another one inherits it then.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub count: Option<u32>,
    /// The package that it was sold in, a word of [`crate::trade::packages`]; its price is its share of the package's.
    /// Absent: inherited, or sold by itself. Empty: sold by itself.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub package: Option<String>,
    /// The height of a raise in whole millimeters, as it was prescribed; 0 where it was taken back. Absent where it was
    /// not stated: a line that replaces another one inherits it then.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub height_mm: Option<u32>,
}

impl Agreed {
    /// Work on both shoes at a price in minor units.
    pub fn at(operation: impl Into<OperationCode>, price_minor: Minor) -> Self {
        Self {
            operation: operation.into(),
            side: Side::Both,
            price_minor,
            gift: None,
            damage: None,
            variant: None,
            count: None,
            package: None,
            height_mm: None,
        }
    }

    /// The variant; `None` for none in particular.
    pub fn variant(&self) -> Option<&str> {
        self.variant.as_deref().and_then(unless_empty)
    }

    /// How many pieces; at least one.
    pub fn pieces(&self) -> u32 {
        self.count.unwrap_or(1).max(1)
    }

    /// The package it was sold in.
    pub fn package(&self) -> Option<&str> {
        self.package.as_deref().and_then(unless_empty)
    }

    /// The prescribed height of a raise in whole millimeters; `None` where it was not stated.
    pub fn height_mm(&self) -> Option<u32> {
        self.height_mm.filter(|height| *height > 0)
    }

    /// The line with what it does not say itself taken from the one it replaces: an older app, which does not know these
    /// fields, leaves them out.
    #[must_use]
    pub fn inheriting(mut self, replaced: &Agreed) -> Self {
        self.variant = self.variant.or_else(|| replaced.variant.clone());
        self.count = self.count.or(replaced.count);
        self.package = self.package.or_else(|| replaced.package.clone());
        self.height_mm = self.height_mm.or(replaced.height_mm);
        self
    }

    /// Work on both shoes at no charge, for this reason, with its worth in minor units.
    pub fn given(operation: impl Into<OperationCode>, why: GiftWhy, worth_minor: Minor) -> Self {
        Self {
            gift: Some(Gift { why, worth_minor }),
            ..Self::at(operation, Minor::ZERO)
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
    pub worth_minor: Minor,
}

/// Agreed work that will not be done.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Skipped {
    /// The operation.
    pub operation: OperationCode,
    /// The agreed line, or one that it replaced; absent where every line of the operation is meant.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub line: Option<EntryId>,
    /// The reason, if one was given.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub note: String,
}

/// A step that has to be made again: it stays in the history, and its operation is open again.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Redo {
    /// The step.
    pub step: EntryId,
    /// The material that is now scrap because it was cut or used twice; empty if none.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub scrap: String,
}

/// The order in which a job's remaining work is to be done, where it is not the usual one. A later entry replaces an
/// earlier one.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Order {
    /// Operations, next first. Work that is not named here comes afterwards, in the usual order.
    pub operations: Vec<OperationCode>,
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

/// Time that must pass before the next step. It begins when the entry is made.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Wait {
    /// What the job waits for.
    pub what: WaitFor,
    /// The length of the wait in minutes; absent if it lasts until a [`WaitOver`] ends it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub minutes: Option<u32>,
    /// The operation it follows, or what was ordered.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub note: String,
    /// The material of the shelf that it waits for. The wait is over when some of it arrives.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub material: Option<SubjectId>,
    /// What dries, a word of [`crate::trade::WaitKind`]; absent where it was not stated, and in entries of older apps, which
    /// is read as cement if the operation has any.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub dries: Option<String>,
}

impl Wait {
    /// So many minutes of drying, before, within or after an operation.
    pub fn drying(minutes: u32, operation: impl Into<String>, dries: Option<String>) -> Self {
        Self {
            what: WaitFor::Drying,
            minutes: Some(minutes),
            note: operation.into(),
            material: None,
            dries,
        }
    }

    /// Until something that was ordered comes, in words.
    pub fn ordered(what: impl Into<String>) -> Self {
        Self {
            what: WaitFor::Material,
            minutes: None,
            note: what.into(),
            material: None,
            dries: None,
        }
    }
}

/// Ends a wait: the cement is dry, the leather has come.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct WaitOver {
    /// The wait.
    pub wait: EntryId,
}

/// A photograph of a job, a pair or damage.
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
    pub operation: Option<OperationCode>,
    /// The entry it belongs to, for example the damage it shows.
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
    pub operation: OperationCode,
    /// Which shoe.
    pub side: Side,
    /// A remark for colleagues and for the next repair.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub note: String,
    /// Minutes of attended work; absent where they were not noted.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub minutes: Option<u32>,
    /// What was used, where it was stated; otherwise the shop's list of materials counts.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub used: Vec<Used>,
    /// The agreed line it was done for, or one that this line replaced; absent where it was not stated: it then counts for
    /// every line of the operation on that shoe.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub line: Option<EntryId>,
    /// The cement it was done with, a word of [`crate::trade::cement_guide`] or the name of the shop's own product; absent where
    /// it was not stated.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub cement: Option<String>,
}

/// Material from the shop's list that a step used.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Used {
    /// Its name on the list.
    pub material: String,
    /// The amount in thousandths of its unit, without waste.
    pub thousandths: u32,
    /// Which material of the shelf it is; the amount then includes what was wasted.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub material_id: Option<SubjectId>,
}

/// What a step took, and with which cement it was done, entered afterwards. The step itself and its time stay as they are. About a job; a later entry on
/// the same step replaces this one.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Spent {
    /// The step.
    pub step: EntryId,
    /// Minutes of attended work; absent where they were not noted.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub minutes: Option<u32>,
    /// What was used; empty where the shop's list counts.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub used: Vec<Used>,
    /// The cement the step was done with, in place of [`Step::cement`]; absent where that counts, empty where no cement is to be
    /// named.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub cement: Option<String>,
}

/// What was measured on the pair, what was calculated from it, and what the result tells the repairer to do. About a
/// job; a later entry replaces this one.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Measured {
    /// The calculation that was made, by its word: `nails`, `thread`, `dye`, …
    pub what: String,
    /// The operation it served.
    #[serde(
        default,
        deserialize_with = "none_if_empty",
        skip_serializing_if = "Option::is_none"
    )]
    pub operation: Option<OperationCode>,
    /// The result: what to do, in words.
    pub say: String,
    /// The inputs and results as numbers and words, by field name. The field's name carries the unit (`block_mm`).
    #[serde(default, skip_serializing_if = "Map::is_empty")]
    pub given: Map<String, Value>,
}

/// A remark on any subject, written or spoken.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Note {
    /// The written text; may be empty beside a voice note.
    #[serde(default)]
    pub text: String,
    /// The recording of a spoken remark.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub voice: Option<Blob>,
    /// The entry of the same subject that it is a remark on: a step, a finding, an agreed line; absent for a remark on the
    /// subject as a whole.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub of: Option<EntryId>,
}
