//! Standing entries of one kind: an item of a list, or the current value of a field with its rivals.

use std::collections::BTreeSet;

use crate::log::body::Agreed;
use crate::log::entry::{EntryId, MadeAt, PersonId};

/// One standing entry, with what lists show of it.
#[derive(Debug, Clone, PartialEq)]
pub struct Item<T> {
    /// The id of the entry.
    pub entry: EntryId,
    /// When it was made, for display.
    pub at: MadeAt,
    /// Who was working.
    pub person: Option<PersonId>,
    /// The typed body.
    pub body: T,
}

/// The current value of a plain field.
#[derive(Debug, Clone, PartialEq)]
pub struct Slot<T> {
    /// The greatest standing value, which is shown.
    pub current: Item<T>,
    /// The other standing values: written concurrently, by devices that did not know the current one.
    pub rivals: Vec<Item<T>>,
}

impl<T> Slot<T> {
    /// The entries a new value must name in `over`.
    pub fn entries(&self) -> Vec<EntryId> {
        self.rivals
            .iter()
            .chain([&self.current])
            .map(|item| item.entry)
            .collect()
    }
}

/// One line of agreed work. More than one version means that devices agreed on it concurrently: the app shows all
/// versions and asks.
#[derive(Debug, Clone, PartialEq)]
pub struct AgreedLine {
    /// The standing versions, in order; never empty.
    pub versions: Vec<Item<Agreed>>,
    /// The entries that the line is, or was before it was changed: a step may name any of them.
    pub family: BTreeSet<EntryId>,
}

impl AgreedLine {
    /// A line with one version, which replaced nothing.
    pub fn of(version: Item<Agreed>) -> Self {
        Self {
            family: BTreeSet::from([version.entry]),
            versions: vec![version],
        }
    }

    /// The version that counts: the last one.
    pub fn last(&self) -> Option<&Item<Agreed>> {
        self.versions.last()
    }

    /// Whether an entry names this line: it is one of its versions, or one that they replaced.
    pub fn is_named(&self, line: EntryId) -> bool {
        self.family.contains(&line)
    }
}
