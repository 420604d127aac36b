//! Findings that were entered anew: a part whose name was not known yet is named later by an entry in place of the
//! first.
//!
//! What named the first entry (agreed work, questions, photographs, notes) is about the one that stands now, and the
//! finding keeps its time and the person who made it.

use std::collections::{BTreeMap, BTreeSet};

use super::item::Item;
use crate::log::body::{Body, Damage};
use crate::log::entry::{EntryId, MadeAt, PersonId};
use crate::log::inserted;
use crate::log::supersession::{ReadEntry, Supersession};

/// The findings of one job that took the place of earlier ones.
#[derive(Debug, Default)]
pub(super) struct FindingsAnew {
    /// The finding that stands, by each entry that it replaced, directly or through others.
    standing: BTreeMap<EntryId, EntryId>,
    /// When the first entry of such a finding was made, and by whom.
    first: BTreeMap<EntryId, (MadeAt, Option<PersonId>)>,
}

impl FindingsAnew {
    /// Reads the findings of a job.
    pub(super) fn of(standing: &Supersession<'_>) -> Self {
        let mut anew = Self::default();
        let findings = || {
            let history = standing.history().iter();
            history.filter(|read| matches!(read.body, Body::Damage(_)))
        };
        if findings().all(|read| read.received.entry.over.is_empty()) {
            return anew;
        }
        let known: BTreeMap<EntryId, &ReadEntry<'_>> = inserted(findings().map(|read| (read.id(), read)));
        let stands = |id: EntryId| !standing.is_retracted(id) && !standing.is_replaced(id);
        for head in findings().filter(|read| stands(read.id())) {
            let mut first = head;
            let mut seen = BTreeSet::from([head.id()]);
            let mut open = vec![head];
            while let Some(read) = open.pop() {
                for over in read.received.entry.over.iter().copied() {
                    // One that stands beside it, because what replaced it was taken back, is a finding of its own.
                    if (known.contains_key(&over) && stands(over)) || !seen.insert(over) {
                        continue;
                    }
                    anew.standing.insert(over, head.id());
                    if let Some(earlier) = known.get(&over).copied() {
                        if earlier.received.position() < first.received.position() {
                            first = earlier;
                        }
                        open.push(earlier);
                    }
                }
            }
            if first.id() != head.id() {
                let entry = &first.received.entry;
                anew.first.insert(head.id(), (entry.made_at, entry.person));
            }
        }
        anew
    }

    /// Whether no finding was entered anew.
    pub(super) fn is_empty(&self) -> bool {
        self.standing.is_empty()
    }

    /// Lets a reference to a finding that was replaced name the one that stands.
    pub(super) fn follow(&self, reference: &mut Option<EntryId>) {
        if let Some(now) = reference.and_then(|id| self.standing.get(&id)) {
            *reference = Some(*now);
        }
    }

    /// Gives a finding the time and the person of its first entry.
    pub(super) fn date(&self, finding: &mut Item<Damage>) {
        if let Some((at, person)) = self.first.get(&finding.entry) {
            (finding.at, finding.person) = (*at, *person);
        }
    }
}
