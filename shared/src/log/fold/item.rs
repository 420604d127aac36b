//! What stands of one kind of entry: a list of items, or the current value of a field with its rivals.

use crate::log::body::Agreed;
use crate::log::entry::{EntryId, MadeAt, PersonId};

/// One standing entry, with what people want to know of it.
#[derive(Debug, Clone, PartialEq)]
pub struct Item<T> {
    /// Which entry says so.
    pub entry: EntryId,
    /// When it was made, for people.
    pub at: MadeAt,
    /// Who was working.
    pub person: Option<PersonId>,
    /// What it says.
    pub body: T,
}

/// The current value of a plain field.
#[derive(Debug, Clone, PartialEq)]
pub struct Slot<T> {
    /// The greatest standing value: what is shown.
    pub current: Item<T>,
    /// Other standing values: written at the same time by a device that had not seen the current one.
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

/// One line of agreed work. More than one version: agreed differently on two devices; show all and ask.
#[derive(Debug, Clone, PartialEq)]
pub struct AgreedLine {
    /// The standing versions, in order; never empty.
    pub versions: Vec<Item<Agreed>>,
}
