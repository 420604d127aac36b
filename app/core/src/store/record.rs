//! A record: one entry as a row of `tail`.

use serde::{Deserialize, Serialize};
use shared::log::{ReceivedEntry, about, is_erasure};
use shared::sync::{Code, Problem};

use super::kv::Row;
use super::meta::{More, encode};
use super::tables::index;

/// An entry, and its state in sync.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Record {
    /// The entry.
    #[serde(rename = "held")]
    pub received: ReceivedEntry,
    /// Whether it is still to be sent to a server.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub unsent: bool,
    /// Why a server refused it; such an entry is not sent again automatically.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub refused: Option<Problem>,
    /// Whether this copy is set aside: it is blank although no known erasure covers it. It is kept but not read until
    /// its erasure or a full copy arrives.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub aside: bool,
    /// Whether the device leaves it out of everything it shows, because the server has not taken it: an erasure on a
    /// device that has joined a shop, until it is acknowledged; an entry that the server keeps for a repairer, or that a
    /// repairer has dropped.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub left_out: bool,
    /// Whether it is an erasure that the server refused and in whose place the device has asked for one: it is neither
    /// sent again nor shown as refused.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub retired: bool,
    /// Fields of a newer app.
    #[serde(flatten)]
    pub more: More,
}

impl Record {
    /// An entry made on this device, which no server has received.
    pub(super) fn unsent(received: ReceivedEntry) -> Self {
        Self {
            unsent: true,
            ..Self::acknowledged(received)
        }
    }

    /// An entry that is durable on a server.
    pub(super) fn acknowledged(received: ReceivedEntry) -> Self {
        Self {
            received,
            unsent: false,
            refused: None,
            aside: false,
            left_out: false,
            retired: false,
            more: More::new(),
        }
    }

    /// Whether a server has it, as far as the device knows.
    pub(super) fn is_acknowledged(&self) -> bool {
        !self.unsent && self.refused.is_none() && !self.aside && !self.retired
    }

    /// Whether nothing of it would be lost with this copy: a server has it, or has sent it blank.
    pub(super) fn is_on_server(&self) -> bool {
        !self.unsent && self.refused.is_none() && !self.retired
    }

    /// Whether it is part of what the device shows. An older app can leave `left_out` set in an entry that the server has
    /// taken since.
    pub(super) fn is_read(&self) -> bool {
        !self.aside && (!self.left_out || self.is_acknowledged())
    }

    /// Notes that a server has it.
    pub(super) fn note_taken(&mut self) {
        self.unsent = false;
        self.refused = None;
        self.left_out = false;
        self.retired = false;
    }

    /// Whether the server refused it because it did not know the erasure that blanked it.
    pub(super) fn waits_for_erasure(&self) -> bool {
        self.refused_as() == Some(&Code::ErasureUnknown)
    }

    /// Whether the server keeps it until a repairer decides about it.
    pub(super) fn is_kept_for_repairer(&self) -> bool {
        self.refused_as() == Some(&Code::KeptForRepairer)
    }

    fn refused_as(&self) -> Option<&Code> {
        self.refused.as_ref().map(|problem| &problem.code)
    }

    /// Reads a row. `None` for a shape that only a newer app can read: such a row is left as it is.
    pub(super) fn read(row: &Row) -> Option<Record> {
        serde_json::from_str(row.as_text()?).ok()
    }

    /// The row for it.
    pub(super) fn row(&self) -> Row {
        let entry = &self.received.entry;
        let mut indexed: Vec<_> = about(entry)
            .into_iter()
            .map(|subject| (index::ABOUT, subject.to_string()))
            .collect();
        if self.unsent && !self.aside {
            // Erasures first, because a server refuses a blank entry whose erasure it does not know. The others in the
            // order in which they were made; the id distinguishes those of two devices in a restored copy.
            let first = if is_erasure(&entry.kind) { "!" } else { "" };
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
