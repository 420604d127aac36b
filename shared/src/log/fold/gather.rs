//! The history of a pair, and its loader, which works with any store that can answer "every entry about this subject".

use std::collections::{BTreeMap, BTreeSet};

use super::Entries;
use super::customer_state::CustomerState;
use super::job_state::JobState;
use super::pair_state::PairState;
use super::subject_map::SubjectMap;
use super::ticket_state::TicketState;
use crate::log::body::Body;
use crate::log::entry::{SubjectId, SubjectKind};
use crate::log::inserted;
use crate::log::received::ReceivedEntry;
use crate::log::sameness::class_of;

/// A pair with all its jobs, tickets and customers, each folded into its state.
#[derive(Debug, Clone, PartialEq)]
pub struct PairHistory {
    /// The canonical id: the smallest id in [`PairHistory::same`].
    pub id: SubjectId,
    /// Every pair subject that is this pair.
    pub same: BTreeSet<SubjectId>,
    /// The state of the pair, from the entries of all ids in [`PairHistory::same`] together.
    pub pair: PairState,
    /// Its jobs, by id: oldest first, as far as the clocks of the devices that opened them agree.
    pub jobs: BTreeMap<SubjectId, JobState>,
    /// The tickets of those jobs.
    pub tickets: SubjectMap<TicketState>,
    /// The customers of the pair and of those tickets, under every id of each.
    pub customers: SubjectMap<CustomerState>,
    /// Every subject that was read. When an entry about any of them arrives, the history must be loaded again.
    pub read: BTreeSet<SubjectId>,
}

impl PairHistory {
    /// The ticket that a job belongs to.
    pub fn ticket_of(&self, job: &JobState) -> Option<&TicketState> {
        self.tickets.get(&job.ticket()?)
    }
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
        for received in about {
            self.follow(id, &role, &received);
            self.entries.take(received);
        }
    }

    /// Adds the subjects that one entry about `id` links to.
    fn follow(&mut self, id: SubjectId, role: &SubjectKind, received: &ReceivedEntry) {
        let subject = &received.entry.subject;
        match Body::of(&received.entry) {
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
        let same = class_of(self.start, self.entries.iter());
        let jobs = self.of_kind(&SubjectKind::Job).into_iter();
        let jobs = jobs.map(|(id, entries)| (id, JobState::of(entries)));
        let jobs: BTreeMap<_, _> =
            inserted(jobs.filter(|(_, job)| job.pair().is_some_and(|pair| same.contains(&pair))));
        let hung_on: BTreeSet<_> = inserted(jobs.values().filter_map(JobState::ticket));
        let tickets = self.of_kind(&SubjectKind::Ticket).into_iter();
        let tickets = tickets.filter(|(id, _)| hung_on.contains(id));
        let customers = self.of_kind(&SubjectKind::Customer).into_iter();
        PairHistory {
            id: same.first().copied().unwrap_or(self.start),
            pair: PairState::of(self.entries_of(&same)),
            customers: customers
                .map(|(id, entries)| (id, CustomerState::of(entries)))
                .collect(),
            tickets: tickets
                .map(|(id, entries)| (id, TicketState::of(entries)))
                .collect(),
            read: inserted(self.roles.keys().copied()),
            same,
            jobs,
        }
    }

    /// Every subject of a kind with its entries, and those of the subjects it is the same as.
    fn of_kind(&self, kind: &SubjectKind) -> Vec<(SubjectId, Vec<&ReceivedEntry>)> {
        let of_kind = self.roles.iter().filter(|(_, known)| *known == kind);
        let with_entries = of_kind.map(|(id, _)| {
            let same = class_of(*id, self.entries.iter());
            (*id, self.entries_of(&same))
        });
        with_entries.collect()
    }

    /// The entries of these subjects.
    fn entries_of(&self, subjects: &BTreeSet<SubjectId>) -> Vec<&ReceivedEntry> {
        let entries = self.entries.iter();
        entries
            .filter(|received| subjects.contains(&received.entry.subject.id))
            .collect()
    }
}
