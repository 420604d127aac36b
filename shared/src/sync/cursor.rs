//! Cursors: how far a device has read in a server's numbering.

use serde::{Deserialize, Serialize};
use uuid::Uuid;

/// A cursor means: everything up to and including `seq` is durably applied on this device.
///
/// A server numbers the entries it receives in one running sequence, and gives every number a new random `mark`. A
/// server restored from an older copy, whether or not anybody noticed, hands out the same numbers again but never the
/// same marks. If the server's mark at a device's number differs from the device's, the device knows that it must read
/// everything again and send what the server has lost. An entry can be numbered more than once: when its `received`
/// becomes earlier, every device must learn of it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Cursor {
    /// Changes when a server's data folder is created or deliberately restored.
    pub epoch: Uuid,
    /// The number of the last entry read; 0 before the first.
    pub seq: u64,
    /// The mark that the server gave to `seq`; nil if `seq` is 0.
    pub mark: Uuid,
}

/// How far a new device has read into the history that existed when it joined.
///
/// History is grouped by subject, newest subject first (by the number of its first entry, which never changes), with
/// the oldest entry of a subject first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct HistoryMark {
    /// The number of the first entry of the subject that is being read.
    pub subject_seq: u64,
    /// The number of the last entry of it that was read.
    pub seq: u64,
}
