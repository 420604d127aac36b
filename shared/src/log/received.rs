//! One entry as a device or server holds it, and how two copies become one.

use serde::{Deserialize, Serialize};

use super::entry::{Entry, UnixMs};
use super::erasure::Erasures;

/// An entry and what is known of its arrival.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ReceivedEntry {
    /// The immutable part.
    pub entry: Entry,
    /// When a server first took it; absent until then. Only ever falls, by [`ReceivedEntry::merge`].
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub received: Option<UnixMs>,
}

/// What merging a second copy did.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Merged {
    /// The second copy told nothing new.
    Unchanged,
    /// `received` fell, or the body was blanked or filled: fold the subject afresh.
    Changed,
    /// Another entry with the same id. The first copy stands.
    Conflict,
}

impl ReceivedEntry {
    /// An entry no server has taken yet.
    pub fn unsent(entry: Entry) -> Self {
        Self {
            entry,
            received: None,
        }
    }

    /// Takes in another copy of the same entry. A full copy beats a blank one, unless one of these erasures covers the
    /// entry: then it is blank. The earlier `received` wins.
    ///
    /// With the same erasures, merging is commutative, associative and idempotent over copies that do not conflict. Without any
    /// (`&Erasures::default()`) it is right for copies to which the known erasures have been applied already.
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
            // Filled only to be blanked again is no change.
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
