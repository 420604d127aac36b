//! The entries that hold the log together. They say nothing about a person and stay readable when content is erased.

use serde::{Deserialize, Serialize};
use serde_json::Value;

use crate::log::entry::{EntryId, SubjectId};
use crate::log::lower_case;

/// Hides another entry of the same subject that was made by mistake.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Retracted {
    /// The entry hidden by this one.
    pub entry: EntryId,
}

/// Says that this subject and another of its kind are the same thing.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct SameAs {
    /// The other subject.
    pub other: SubjectId,
}

/// Destroys content. Without `blob`: everything that entries say on this entry's own subject; with it: those bytes,
/// wherever entries name them.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Erased {
    /// SHA-256 of a photograph or voice note to destroy; capitals are read as lower case.
    #[serde(
        default,
        deserialize_with = "lower_case::if_any",
        skip_serializing_if = "Option::is_none"
    )]
    pub blob: Option<String>,
}

/// Asks for what [`Erased`] does. By itself it destroys nothing: after [`ERASURE_WAITS_MS`] the server tells a repairer's
/// device to write the erasure, unless this entry was retracted. A repairer's device writes it instead of an erasure beyond
/// the number that a server takes in a day.
///
/// Unlike the other entries here, its content goes with that of its subject.
///
/// [`ERASURE_WAITS_MS`]: crate::sync::messages::ERASURE_WAITS_MS
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct ErasureAsked {
    /// SHA-256 of a photograph or voice note to destroy; absent for the entry's own subject.
    #[serde(
        default,
        deserialize_with = "lower_case::if_any",
        skip_serializing_if = "Option::is_none"
    )]
    pub blob: Option<String>,
}

/// Destroys the content of one entry of the same subject, because it mentions a person who is erased, and keeps the rest of
/// what the entry said. The entry keeps its place in the order and whatever names it.
///
/// Unlike [`Erased`], it destroys no photograph: what an entry mentions stands in its words.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct MentionErased {
    /// The entry whose content is destroyed.
    pub entry: EntryId,
    /// The content of that entry without the mention, in the shape of its kind; absent if nothing remains of it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub left: Option<Value>,
}
