//! The word of an operation in the log.

use std::borrow::Borrow;
use std::fmt;
use std::ops::Deref;

use serde::{Deserialize, Deserializer, Serialize};

use crate::text::unless_empty;

/// Which operation: a word of [`crate::trade::operations`], or the name that the shop gave an operation of its own.
///
/// It is compared and sorted as text, and a function that only reads it takes a `&str`.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(transparent)]
pub struct OperationCode(String);

impl OperationCode {
    /// The operation of a word; `None` for an empty word.
    pub fn if_any(word: &str) -> Option<Self> {
        unless_empty(word).map(Self::from)
    }

    /// The word as it is written in the log.
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

impl From<&str> for OperationCode {
    fn from(code: &str) -> Self {
        Self(code.to_owned())
    }
}

impl From<String> for OperationCode {
    fn from(code: String) -> Self {
        Self(code)
    }
}

impl From<&OperationCode> for OperationCode {
    fn from(code: &OperationCode) -> Self {
        code.clone()
    }
}

impl From<OperationCode> for String {
    fn from(code: OperationCode) -> Self {
        code.0
    }
}

impl Deref for OperationCode {
    type Target = str;

    fn deref(&self) -> &str {
        &self.0
    }
}

/// So that maps by operation are asked with a `&str`.
impl Borrow<str> for OperationCode {
    fn borrow(&self) -> &str {
        &self.0
    }
}

impl PartialEq<str> for OperationCode {
    fn eq(&self, other: &str) -> bool {
        self.0 == other
    }
}

impl PartialEq<&str> for OperationCode {
    fn eq(&self, other: &&str) -> bool {
        self.0 == *other
    }
}

impl fmt::Display for OperationCode {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

/// Reads an operation that may be absent. Version 0.1.0 wrote an empty word for none.
pub(super) fn none_if_empty<'de, D: Deserializer<'de>>(from: D) -> Result<Option<OperationCode>, D::Error> {
    let word = Option::<String>::deserialize(from)?;
    Ok(word.as_deref().and_then(OperationCode::if_any))
}
