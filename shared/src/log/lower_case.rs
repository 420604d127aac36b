//! Reads the hex digits of hashes as lower case, so that a blob has one name however an app wrote it: an erasure finds
//! it by its name. The functions are for `#[serde(deserialize_with = "…")]`.

use std::collections::BTreeSet;

use serde::{Deserialize, Deserializer};

/// Reads one hash.
pub(super) fn one<'de, D: Deserializer<'de>>(reader: D) -> Result<String, D::Error> {
    let mut hash = String::deserialize(reader)?;
    hash.make_ascii_lowercase();
    Ok(hash)
}

/// Reads a hash, if there is any.
pub(super) fn if_any<'de, D: Deserializer<'de>>(reader: D) -> Result<Option<String>, D::Error> {
    let hash = Option::<String>::deserialize(reader)?;
    Ok(hash.map(|hash| hash.to_ascii_lowercase()))
}

/// Reads a set of hashes.
pub(super) fn set<'de, D: Deserializer<'de>>(reader: D) -> Result<BTreeSet<String>, D::Error> {
    let hashes = BTreeSet::<String>::deserialize(reader)?;
    Ok(hashes.into_iter().map(|hash| hash.to_ascii_lowercase()).collect())
}
