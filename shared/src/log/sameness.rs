//! Subjects that are the same thing, for example a customer entered on two phones, or a pair entered again after two
//! years.

use std::collections::{BTreeMap, BTreeSet};

use super::body::Body;
use super::entry::SubjectId;
use super::inserted;
use super::received::ReceivedEntry;
use super::supersession::Supersession;

/// Which subjects are the same thing: a union-find forest, in which a subject points to a smaller one that is the same
/// thing, and the smallest of them to itself. Joining any number of subjects takes time nearly in proportion to it.
#[derive(Debug, Default)]
pub(crate) struct Sameness {
    toward: BTreeMap<SubjectId, SubjectId>,
}

impl Sameness {
    /// Joins each two of these subjects, and so all that are connected.
    pub(crate) fn of(joins: impl IntoIterator<Item = (SubjectId, SubjectId)>) -> Self {
        let mut all = Self::default();
        for (one, other) in joins {
            let (one, other) = (all.root(one), all.root(other));
            let smaller = one.min(other);
            all.toward.insert(one.max(other), smaller);
            all.toward.insert(smaller, smaller);
        }
        all.flatten();
        all
    }

    /// The smallest subject that is known to be the same thing. Each subject on the way there is made to point further.
    fn root(&mut self, id: SubjectId) -> SubjectId {
        let mut at = id;
        while let Some(next) = self.toward.get(&at).copied().filter(|next| *next != at) {
            let further = self.toward.get(&next).copied().unwrap_or(next);
            self.toward.insert(at, further);
            at = further;
        }
        at
    }

    /// Makes each subject point to the smallest one. A subject points to a smaller one, which in this order already points
    /// to the smallest.
    fn flatten(&mut self) {
        let ids: Vec<_> = self.toward.keys().copied().collect();
        for id in ids {
            let root = self.canonical(self.canonical(id));
            self.toward.insert(id, root);
        }
    }

    /// The smallest of the subjects that are the same thing as `id`.
    pub(crate) fn canonical(&self, id: SubjectId) -> SubjectId {
        self.toward.get(&id).copied().unwrap_or(id)
    }

    /// The subjects that are the same thing as `id`, itself included.
    pub(crate) fn class(&self, id: SubjectId) -> BTreeSet<SubjectId> {
        let canonical = self.canonical(id);
        let joined = self.toward.iter().filter(|(_, toward)| **toward == canonical);
        let mut class: BTreeSet<_> = inserted(joined.map(|(id, _)| *id));
        class.insert(id);
        class
    }
}

/// The `same_as` that stand among the entries of one subject, each with the subject that it names. Whether one stands is
/// decided among these entries alone.
pub(crate) fn joins<'a>(
    own: impl IntoIterator<Item = &'a ReceivedEntry>,
) -> Vec<(&'a ReceivedEntry, SubjectId)> {
    let ties: Vec<_> = own.into_iter().filter(|received| is_tie(received)).collect();
    let standing = Supersession::of(ties);
    let joins = standing.unretracted().filter_map(|read| match &read.body {
        Body::SameAs(same) => Some((read.received, same.other)),
        _ => None,
    });
    joins.collect()
}

fn is_tie(received: &ReceivedEntry) -> bool {
    matches!(received.entry.kind.as_str(), "same_as" | "retracted")
}

/// The subjects that are the same thing as `id`, itself included. The smallest is the canonical one.
///
/// `entries` must hold every `same_as` and retraction of the subjects reachable from `id`; others are ignored.
/// Whether a `same_as` stands is decided among the entries of its own subject alone, so the answer does not
/// depend on the order in which joins and their retractions arrived.
pub fn class_of<'a>(
    id: SubjectId,
    entries: impl IntoIterator<Item = &'a ReceivedEntry>,
) -> BTreeSet<SubjectId> {
    let mut by_subject: BTreeMap<SubjectId, Vec<&ReceivedEntry>> = BTreeMap::new();
    for received in entries.into_iter().filter(|received| is_tie(received)) {
        by_subject
            .entry(received.entry.subject.id)
            .or_default()
            .push(received);
    }
    let named = by_subject
        .into_iter()
        .flat_map(|(subject, own)| joins(own).into_iter().map(move |(_, other)| (subject, other)));
    Sameness::of(named).class(id)
}
