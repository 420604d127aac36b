//! What somebody has done, before a device has made an entry of it.

use serde_json::Value;

use super::body::{Body, Detail, field};
use super::entry::{EntryId, PersonId, Subject};

/// An entry before the device has stamped it.
#[derive(Debug, Clone, PartialEq)]
pub struct Draft {
    /// What it is about.
    pub subject: Subject,
    /// The entries it replaces.
    pub over: Vec<EntryId>,
    /// Who was working.
    pub person: Option<PersonId>,
    /// What it says.
    pub body: Body,
}

impl Draft {
    /// A draft that replaces nothing, by nobody in particular.
    pub fn new(subject: Subject, body: Body) -> Self {
        Self {
            subject,
            over: Vec::new(),
            person: None,
            body,
        }
    }

    /// A draft that hangs this device's next tag number on a job. The number is allotted by the save itself, so
    /// that no two pairs get the same one.
    pub fn next_tag(job: Subject) -> Self {
        Self::new(
            job,
            Body::Detail(Detail {
                field: field::TAG.to_owned(),
                value: Value::Null,
            }),
        )
    }

    /// The same, replacing these entries.
    #[must_use]
    pub fn over(mut self, entries: Vec<EntryId>) -> Self {
        self.over = entries;
        self
    }

    /// The same, by this person.
    #[must_use]
    pub fn by(mut self, person: Option<PersonId>) -> Self {
        self.person = person;
        self
    }
}
