//! A draft: what a command wants to record, before a device has made an entry of it.

use serde_json::Value;

use super::body::{Body, Detail, field};
use super::entry::{EntryId, PersonId, Subject};

/// An entry before a device has given it an id, a stamp and a running number.
#[derive(Debug, Clone, PartialEq)]
pub struct Draft {
    /// What it is about.
    pub subject: Subject,
    /// The entries it replaces, see [`Entry::over`](super::Entry::over).
    pub over: Vec<EntryId>,
    /// Who was working.
    pub person: Option<PersonId>,
    /// The typed body.
    pub body: Body,
}

impl Draft {
    /// A draft that replaces no entry and names no person.
    pub fn new(subject: Subject, body: Body) -> Self {
        Self {
            subject,
            over: Vec::new(),
            person: None,
            body,
        }
    }

    /// A draft that gives a job this device's next tag number. The number is allotted by the save itself, so that no
    /// two pairs get the same one.
    pub fn next_tag(job: Subject) -> Self {
        Self::new(
            job,
            Body::Detail(Detail {
                field: field::TAG.to_owned(),
                value: Value::Null,
            }),
        )
    }

    /// This draft, replacing these entries.
    #[must_use]
    pub fn over(mut self, entries: Vec<EntryId>) -> Self {
        self.over = entries;
        self
    }

    /// This draft, made by this person.
    #[must_use]
    pub fn by(mut self, person: Option<PersonId>) -> Self {
        self.person = person;
        self
    }
}
