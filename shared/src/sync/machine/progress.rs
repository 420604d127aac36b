//! What a device must remember of its sync across a restart.

use serde::{Deserialize, Serialize};

use crate::sync::cursor::{Cursor, HistoryMark};

/// What a device remembers of its sync. Stored with the entries, changed only in their transaction.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
pub struct Progress {
    /// Everything the server numbered up to here is stored. `None`: nothing yet.
    #[serde(default)]
    pub cursor: Option<Cursor>,
    /// Where the server stood after the last push, until the cursor has passed it. If it no longer stands, what
    /// was acknowledged then may be lost there, although the cursor, which is older, still stands.
    #[serde(default)]
    pub pushed: Option<Cursor>,
    /// History still to read.
    #[serde(default)]
    pub history: Option<History>,
    /// Whether what the device holds must be compared with what the server holds once the cursor has caught up.
    #[serde(default)]
    pub compare: bool,
    /// Whether the device has ever been filled from this server; until then it starts with what is in the shop.
    #[serde(default)]
    pub filled: bool,
}

/// How far the history that stood at `start` has been read.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct History {
    /// Where the numbering stood when the device joined.
    pub start: Cursor,
    /// The last entry read; `None` before the first page.
    #[serde(default)]
    pub read: Option<HistoryMark>,
}
