//! Where a device stands in a server's numbering.

use serde::{Deserialize, Serialize};
use uuid::Uuid;

/// "Everything up to and including `seq` is durably applied here."
///
/// A server numbers what it takes in one running sequence, and gives every number a fresh random `mark`. A
/// server restored from an older copy (with or without anybody noticing) hands out the same numbers again but
/// never the same marks, so a device that stands at a number whose mark differs knows that it must read
/// everything again and offer what the server has lost. An entry can be numbered more than once: a fall of its
/// `received` is news for every device.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Cursor {
    /// Changes when a server's data folder is made or restored on purpose.
    pub epoch: Uuid,
    /// 0: before the first.
    pub seq: u64,
    /// The mark that stands at `seq`; nil at 0.
    pub mark: Uuid,
}

/// How far a new device has read into the history that stood when it joined.
///
/// History is grouped by subject, newest subject first (by the number of its first entry, which never changes),
/// oldest entry first inside a subject.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct HistoryMark {
    /// The number at which the subject last read was first seen.
    pub subject_seq: u64,
    /// The number of the last entry read of it.
    pub seq: u64,
}
