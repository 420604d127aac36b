//! An entry with the time of its arrival, and how two copies of it are merged.

use serde::{Deserialize, Serialize};

use super::entry::{Entry, UnixMs};
use super::erasure::Erasures;

/// An entry and when a server first received it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ReceivedEntry {
    /// The immutable part.
    pub entry: Entry,
    /// When a server first received it; absent until then. [`ReceivedEntry::merge`] only ever makes it earlier.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub received: Option<UnixMs>,
}

/// What merging a second copy did.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Merged {
    /// The second copy contained nothing new.
    Unchanged,
    /// `received` became earlier, or the body was blanked or filled: the subject must be folded afresh.
    Changed,
    /// Another entry with the same id. The first copy stands.
    Conflict,
}

impl ReceivedEntry {
    /// An entry that no server has received yet.
    pub fn unsent(entry: Entry) -> Self {
        Self {
            entry,
            received: None,
        }
    }

    /// Merges another copy of the same entry into this one. A full copy wins over a blank one, unless one of these
    /// erasures covers the entry: then the result is blank. The earlier `received` wins.
    ///
    /// With the same erasures, merging is commutative, associative and idempotent over copies that do not conflict.
    /// `&Erasures::default()` is correct for copies to which the known erasures have already been applied.
    pub fn merge(&mut self, other: &ReceivedEntry, erasures: &Erasures) -> Merged {
        if !self.entry.same_envelope(&other.entry) {
            return Merged::Conflict;
        }
        let both_full = !self.entry.is_blank() && !other.entry.is_blank();
        if both_full && self.entry.body != other.entry.body {
            return Merged::Conflict;
        }
        let received = match (self.received, other.received) {
            (Some(a), Some(b)) => Some(a.min(b)),
            (a, b) => a.or(b),
        };
        let mut changed = received != self.received;
        self.received = received;
        if self.entry.is_blank() && !other.entry.is_blank() {
            self.entry.body.clone_from(&other.entry.body);
            // A body that is filled and at once blanked again has not changed.
            changed |= !erasures.blank(&mut self.entry);
        } else {
            changed |= erasures.blank(&mut self.entry);
        }
        if changed {
            Merged::Changed
        } else {
            Merged::Unchanged
        }
    }
}
