//! One live entry as a row of `tail`.

use serde::{Deserialize, Serialize};
use shared::log::{ReceivedEntry, about};
use shared::sync::{Code, Problem};

use super::kv::Row;
use super::meta::{More, encode};
use super::tables::index;

/// An entry, and what a server has said to it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Record {
    /// The entry.
    pub held: ReceivedEntry,
    /// Whether it waits to be offered to a server.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub unsent: bool,
    /// Why a server refused it; such an entry is not offered again by itself.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub refused: Option<Problem>,
    /// Whether this copy is blank and no known erasure says that it must be. Such a copy is kept and not read, until its
    /// erasure comes, or a full copy.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub aside: bool,
    /// Fields of a newer app.
    #[serde(flatten)]
    pub more: More,
}

impl Record {
    /// An entry made here, which no server has seen.
    pub(super) fn unsent(held: ReceivedEntry) -> Self {
        Self {
            unsent: true,
            ..Self::acknowledged(held)
        }
    }

    /// An entry that is durable on a server.
    pub(super) fn acknowledged(held: ReceivedEntry) -> Self {
        Self {
            held,
            unsent: false,
            refused: None,
            aside: false,
            more: More::new(),
        }
    }

    /// Whether a server holds it, as far as the device knows.
    pub(super) fn is_acknowledged(&self) -> bool {
        !self.unsent && self.refused.is_none() && !self.aside
    }

    /// Whether the server refused it because it did not know of the erasure that blanked it.
    pub(super) fn waits_for_erasure(&self) -> bool {
        let code = self.refused.as_ref().map(|problem| &problem.code);
        code == Some(&Code::ErasureUnknown)
    }

    /// Reads a row. `None` for a shape only a newer app knows: such a row is left as it is.
    pub(super) fn read(row: &Row) -> Option<Record> {
        serde_json::from_str(row.as_text()?).ok()
    }

    /// The row that holds it.
    pub(super) fn row(&self) -> Row {
        let entry = &self.held.entry;
        let mut indexed: Vec<_> = about(entry)
            .into_iter()
            .map(|subject| (index::ABOUT, subject.to_string()))
            .collect();
        if self.unsent && !self.aside {
            // Erasures first: a server takes nothing blank of which it does not know why. The others as they were made; the
            // id tells apart those of two devices in a restored copy.
            let first = if entry.kind == "erased" { "!" } else { "" };
            let order = format!("{first}{:016}{}", entry.device_seq, entry.id);
            indexed.push((index::UNSENT, order));
        }
        if self.refused.is_some() {
            indexed.push((index::REFUSED, entry.id.to_string()));
        }
        let mut row = Row::text(entry.id.to_string(), encode(self));
        row.indexed = indexed;
        row
    }
}
