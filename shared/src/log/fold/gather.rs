//! Collecting a pair's whole life from a store that can answer "everything about this subject".

use std::collections::{BTreeMap, BTreeSet};

use super::Entries;
use super::state::State;
use crate::log::body::Body;
use crate::log::entry::{SubjectId, SubjectKind};
use crate::log::inserted;
use crate::log::received::ReceivedEntry;
use crate::log::sameness::class_of;

/// A pair with its jobs, tickets and customers, folded.
#[derive(Debug, Clone, PartialEq)]
pub struct PairHistory {
    /// The canonical id: the smallest of [`PairHistory::same`].
    pub id: SubjectId,
    /// Every pair subject that is this pair.
    pub same: BTreeSet<SubjectId>,
    /// What the pair says, all of its subjects read as one.
    pub pair: State,
    /// Its jobs, in order of id (oldest first, by the clocks of those who opened them).
    pub jobs: BTreeMap<SubjectId, State>,
    /// The tickets of those jobs.
    pub tickets: BTreeMap<SubjectId, State>,
    /// The customers of the pair and of those tickets, by every id they go by.
    pub customers: BTreeMap<SubjectId, State>,
    /// Every subject read for this: a new entry about any of them calls for a fresh fold.
    pub read: BTreeSet<SubjectId>,
}

/// Collects a [`PairHistory`], asking for one subject after another: hand [`PairHistoryLoader::give`] what the store has about
/// each of [`PairHistoryLoader::wanted`] until nothing is wanted, then [`PairHistoryLoader::finish`].
#[derive(Debug)]
pub struct PairHistoryLoader {
    start: SubjectId,
    roles: BTreeMap<SubjectId, SubjectKind>,
    wanted: Vec<SubjectId>,
    entries: Entries,
}

impl PairHistoryLoader {
    /// Begins at a pair.
    pub fn pair(start: SubjectId) -> Self {
        let mut gather = Self {
            start,
            roles: BTreeMap::new(),
            wanted: Vec::new(),
            entries: Entries::default(),
        };
        gather.want(start, SubjectKind::Pair);
        gather
    }

    /// The subjects to look up next; empty when done.
    pub fn wanted(&mut self) -> Vec<SubjectId> {
        std::mem::take(&mut self.wanted)
    }

    /// Takes in every entry [`about`](crate::log::about()) `id`.
    pub fn give(&mut self, id: SubjectId, about: impl IntoIterator<Item = ReceivedEntry>) {
        let Some(role) = self.roles.get(&id).cloned() else {
            return;
        };
        for held in about {
            self.follow(id, &role, &held);
            self.entries.take(held);
        }
    }

    /// Wants what one entry about `id` leads to.
    fn follow(&mut self, id: SubjectId, role: &SubjectKind, held: &ReceivedEntry) {
        let subject = &held.entry.subject;
        match Body::of(&held.entry) {
            Body::SameAs(same) if subject.kind == *role => {
                self.want(subject.id, role.clone());
                self.want(same.other, role.clone());
            }
            Body::Opened(opened) if subject.id == id => {
                opened
                    .ticket
                    .into_iter()
                    .for_each(|ticket| self.want(ticket, SubjectKind::Ticket));
                opened
                    .customer
                    .into_iter()
                    .for_each(|customer| self.want(customer, SubjectKind::Customer));
            }
            Body::Opened(_) if *role == SubjectKind::Pair && subject.kind == SubjectKind::Job => {
                self.want(subject.id, SubjectKind::Job);
            }
            _ => {}
        }
    }

    fn want(&mut self, id: SubjectId, role: SubjectKind) {
        if let std::collections::btree_map::Entry::Vacant(free) = self.roles.entry(id) {
            free.insert(role);
            self.wanted.push(id);
        }
    }

    /// Folds what was collected.
    pub fn finish(self) -> PairHistory {
        let mut by_subject: BTreeMap<SubjectId, Vec<&ReceivedEntry>> = BTreeMap::new();
        for held in self.entries.iter() {
            by_subject.entry(held.entry.subject.id).or_default().push(held);
        }
        let class = |id| class_of(id, self.entries.iter());
        let fold = |ids: &BTreeSet<SubjectId>| {
            State::of(ids.iter().filter_map(|id| by_subject.get(id)).flatten().copied())
        };
        let of_role = |role: SubjectKind| {
            let ids = self
                .roles
                .iter()
                .filter(move |(_, known)| **known == role)
                .map(|(id, _)| *id);
            inserted::<BTreeMap<_, _>, _>(ids.map(|id| (id, fold(&class(id)))))
        };

        let same = class(self.start);
        let mut jobs = of_role(SubjectKind::Job);
        jobs.retain(|_, job| job_pair(job).is_some_and(|pair| same.contains(&pair)));
        let hung_on: BTreeSet<_> = inserted(
            jobs.values()
                .filter_map(|job| job.opened.as_ref()?.current.body.ticket),
        );
        let mut tickets = of_role(SubjectKind::Ticket);
        tickets.retain(|id, _| hung_on.contains(id));
        let read = inserted(self.roles.keys().copied());
        PairHistory {
            id: same.first().copied().unwrap_or(self.start),
            pair: fold(&same),
            customers: of_role(SubjectKind::Customer),
            same,
            jobs,
            tickets,
            read,
        }
    }
}

/// The pair a job is on.
pub fn job_pair(job: &State) -> Option<SubjectId> {
    job.opened.as_ref()?.current.body.pair
}
