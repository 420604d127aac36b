//! A device's progress in sync, which it keeps across a restart.

use serde::{Deserialize, Serialize};

use crate::log::body::Role;
use crate::sync::cursor::{Cursor, HistoryMark};

/// A device's progress in sync. It is stored with the entries, and changed only in their transactions.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
pub struct Progress {
    /// Everything that the server numbered up to here is stored. `None`: nothing yet.
    #[serde(default)]
    pub cursor: Option<Cursor>,
    /// The server's number after the last push, until the cursor has passed it. If the server no longer knows it, the
    /// entries acknowledged then may be lost there, although the cursor, which is older, is still valid.
    #[serde(default)]
    pub pushed: Option<Cursor>,
    /// How far what is in the shop has been read, while the device is not `filled` with it; `None` before the first page.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub in_shop: Option<History>,
    /// The history that is still to be read.
    #[serde(default)]
    pub history: Option<History>,
    /// Whether the device's entries must be compared with the server's once the cursor has caught up.
    #[serde(default)]
    pub compare: bool,
    /// Whether the device has ever read from this server; until then it begins with what is in the shop.
    #[serde(default)]
    pub filled: bool,
    /// The device's role, as the server has told it last; `None` if it is not known. The device stores it with its
    /// membership of the shop.
    #[serde(skip)]
    pub role: Option<Role>,
}

/// How far the history that existed at `start` has been read, or what was in the shop then.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct History {
    /// The server's number when the device joined.
    pub start: Cursor,
    /// The last entry read; `None` before the first page.
    #[serde(default)]
    pub read: Option<HistoryMark>,
}
