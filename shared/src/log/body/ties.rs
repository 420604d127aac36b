//! The entries that hold the log together. They say nothing about a person and stay readable when content is erased.

use serde::{Deserialize, Deserializer, Serialize};

use crate::log::entry::{EntryId, SubjectId};

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
        deserialize_with = "lower_case_if_any",
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
        deserialize_with = "lower_case_if_any",
        skip_serializing_if = "Option::is_none"
    )]
    pub blob: Option<String>,
}

/// Reads hex digits, if there are any, as lower case.
fn lower_case_if_any<'de, D: Deserializer<'de>>(reader: D) -> Result<Option<String>, D::Error> {
    let blob = Option::<String>::deserialize(reader)?;
    Ok(blob.map(|hash| hash.to_ascii_lowercase()))
}
