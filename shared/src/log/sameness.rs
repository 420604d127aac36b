//! Subjects that are the same thing, for example a customer entered on two phones, or a pair entered again after two
//! years.

use std::collections::{BTreeMap, BTreeSet};

use super::body::Body;
use super::entry::SubjectId;
use super::received::ReceivedEntry;
use super::supersession::Supersession;

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
    for received in entries {
        if matches!(received.entry.kind.as_str(), "same_as" | "retracted") {
            by_subject
                .entry(received.entry.subject.id)
                .or_default()
                .push(received);
        }
    }
    let mut neighbours: BTreeMap<SubjectId, Vec<SubjectId>> = BTreeMap::new();
    for (subject, own) in by_subject {
        for read in Supersession::of(own).unretracted() {
            if let Body::SameAs(same) = &read.body {
                neighbours.entry(subject).or_default().push(same.other);
                neighbours.entry(same.other).or_default().push(subject);
            }
        }
    }
    let mut class = BTreeSet::new();
    class.insert(id);
    let mut frontier = vec![id];
    while let Some(next) = frontier.pop() {
        frontier.extend(
            neighbours
                .get(&next)
                .into_iter()
                .flatten()
                .filter(|other| class.insert(**other)),
        );
    }
    class
}
