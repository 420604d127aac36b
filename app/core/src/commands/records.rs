//! Correcting records: two records of the same thing, the erasure that a customer asks for, and a request for an erasure
//! that is called off.

use std::collections::BTreeSet;

use shared::log::body::{Body, SameAs};
use shared::log::fold::PairHistory;
use shared::log::{EntryId, ReceivedEntry, Subject, SubjectId, SubjectKind, inserted};

use super::work::undo;
use shared::log::Draft;

/// Says that two subjects of one kind are the same thing. [`part`] undoes it.
pub fn join(kind: SubjectKind, one: SubjectId, other: SubjectId) -> Draft {
    Draft::new(Subject::new(kind, one), Body::SameAs(SameAs { other }))
}

/// Undoes a join: the two records are separate again.
pub fn part(subject: Subject, joined: EntryId) -> Draft {
    undo(subject, joined)
}

/// Calls off a request for an erasure: nothing is erased. `subject` is the one that the request is about.
pub fn call_off(subject: Subject, request: EntryId) -> Draft {
    undo(subject, request)
}

/// The standing joins of this subject, among all entries about it.
pub fn joins<'a>(
    about: &'a [ReceivedEntry],
    kind: &'a SubjectKind,
) -> impl Iterator<Item = (&'a Subject, EntryId)> {
    let retracted = about.iter().filter_map(|held| match Body::of(&held.entry) {
        Body::Retracted(retracted) => Some(retracted.entry),
        _ => None,
    });
    let taken_back: BTreeSet<_> = inserted(retracted);
    about
        .iter()
        .filter(move |held| held.entry.subject.kind == *kind && held.entry.kind == "same_as")
        .filter(move |held| !taken_back.contains(&held.entry.id))
        .map(|held| (&held.entry.subject, held.entry.id))
}

/// All customers of a pair, under every id: what an erasure of them must cover.
pub fn customers(history: &PairHistory) -> Vec<Subject> {
    let known = history.customers.keys();
    known.map(|id| Subject::new(SubjectKind::Customer, *id)).collect()
}

/// Whether two telephone numbers have the same last digits (at least six), ignoring country and area codes.
pub fn same_phone(one: &str, other: &str) -> bool {
    let digits = |text: &str| {
        text.bytes()
            .filter(u8::is_ascii_digit)
            .rev()
            .take(7)
            .collect::<Vec<_>>()
    };
    let (one, other) = (digits(one), digits(other));
    one.len() >= 6 && one == other
}

/// Whether two names are equal, ignoring case and surrounding spaces.
pub fn same_words(one: &str, other: &str) -> bool {
    let (one, other) = (one.trim(), other.trim());
    !one.is_empty() && one.to_lowercase() == other.to_lowercase()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_written_in_two_ways_are_one() {
        assert!(same_phone("+00 30 555 0142", "030 5550142"));
        assert!(!same_phone("555 0142", "555 0143"));
        assert!(!same_phone("0142", "0142"), "four digits are many people's");
        assert!(!same_phone("", ""));
    }

    #[test]
    fn names_are_compared_as_a_person_would() {
        assert!(same_words("Ottoline Brack ", "ottoline brack"));
        assert!(!same_words("", ""), "nothing said is nobody in particular");
    }
}
