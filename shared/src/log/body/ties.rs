//! Entries that tie the log together: they stay readable when content is erased.

use serde::{Deserialize, Serialize};

use crate::log::entry::{EntryId, SubjectId};

/// Names another entry of the same subject as mistaken.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Retracted {
    /// The entry hidden by this one.
    pub entry: EntryId,
}

/// Says that this subject and another of its kind are one thing.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct SameAs {
    /// The other subject.
    pub other: SubjectId,
}

/// Erases: without `blob`, everything on the entry's own subject; with it, those bytes wherever they are named.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Erased {
    /// SHA-256 of a photograph or voice note to destroy.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub blob: Option<String>,
}
