//! The agreed line of an operation that is done next, as lists keep it.

use serde::{Deserialize, Serialize};

use super::item::Item;
use crate::log::body::{Agreed, OperationCode, Side};
use crate::log::entry::EntryId;
use crate::price::minor::Minor;
use crate::trade::{line_name, tile_name_of_line};

/// What lists keep of the agreed line that is the next one of its operation: enough to name it and to note it as done.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct NextLine {
    /// The entry that agreed on it.
    pub entry: EntryId,
    /// Which shoe.
    #[serde(default = "both", skip_serializing_if = "is_both")]
    pub side: Side,
    /// In which variant, see [`Agreed::variant`]; `None` for none in particular.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub variant: Option<String>,
    /// How many pieces; `None` means one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub count: Option<u32>,
    /// The prescribed height of a raise in whole millimeters, see [`Agreed::height_mm`]; `None` where it was not stated.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub height_mm: Option<u32>,
}

fn both() -> Side {
    Side::Both
}

fn is_both(side: &Side) -> bool {
    *side == Side::Both
}

impl NextLine {
    /// What lists keep of this line.
    pub fn of(line: &Item<Agreed>) -> Self {
        Self {
            entry: line.entry,
            side: line.body.side.clone(),
            variant: line.body.variant().map(str::to_owned),
            count: line.body.count,
            height_mm: line.body.height_mm(),
        }
    }

    /// The line as the shop calls it, see [`line_name`]; `operation` is the operation of the line.
    pub fn name(&self, operation: &OperationCode) -> String {
        line_name(&self.line(operation))
    }

    /// The line on a tile, see [`tile_name_of_line`]; `operation` is the operation of the line.
    pub fn tile_name(&self, operation: &OperationCode) -> String {
        tile_name_of_line(&self.line(operation))
    }

    /// The line of `operation`, as far as it is kept, without its price.
    fn line(&self, operation: &OperationCode) -> Agreed {
        Agreed {
            side: self.side.clone(),
            variant: self.variant.clone(),
            count: self.count,
            height_mm: self.height_mm,
            ..Agreed::at(operation, Minor::ZERO)
        }
    }
}
