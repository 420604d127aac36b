//! The history of a pair, and its loader, which works with any store that can answer "every entry about this subject".

use std::borrow::Borrow;
use std::collections::{BTreeMap, BTreeSet};

use super::Entries;
use super::customer_state::CustomerState;
use super::job_state::JobState;
use super::links::{PairLinks, Reach};
use super::pair_state::PairState;
use super::subject_map::SubjectMap;
use super::ticket_state::TicketState;
use crate::log::entry::{SubjectId, SubjectKind};
use crate::log::inserted;
use crate::log::received::ReceivedEntry;
use crate::log::sameness::Sameness;
use crate::trade::Construction;

/// Under so many of its ids a job is listed. Nobody enters one job more often; a device that does not mean well could make
/// so many that the listing of the whole state under each of them would not fit into memory.
const JOB_IDS: usize = 16;

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

    /// The construction of the pair as far as the shop knows it, from the latest of its jobs that says anything of it.
    pub fn construction(&self) -> Option<Construction> {
        self.jobs.values().rev().find_map(JobState::construction_known)
    }
}

/// Collects a [`PairHistory`], asking for one subject after another: hand [`PairHistoryLoader::give`] what the store has about
/// each of [`PairHistoryLoader::wanted`] until nothing is wanted, then [`PairHistoryLoader::finish`].
#[derive(Debug)]
pub struct PairHistoryLoader {
    start: SubjectId,
    links: PairLinks,
    entries: Entries,
}

/// One thing that belongs to the history: its ids, each with the kind as which it is read, and the entries of all of them.
#[derive(Default)]
struct LoadedThing<'a> {
    ids: Vec<(SubjectId, &'a SubjectKind)>,
    entries: Vec<&'a ReceivedEntry>,
}

/// Everything that belongs to the history, by the smallest of its ids.
type LoadedThings<'a> = BTreeMap<SubjectId, LoadedThing<'a>>;

impl PairHistoryLoader {
    /// Begins at a pair.
    pub fn pair(start: SubjectId) -> Self {
        Self::within(start, Reach::Everything)
    }

    /// Begins at a pair, and leaves out its tickets and customers, of which a care card shows nothing.
    pub fn for_card(start: SubjectId) -> Self {
        Self::within(start, Reach::PairsAndJobs)
    }

    fn within(start: SubjectId, reach: Reach) -> Self {
        Self {
            start,
            links: PairLinks::within(&[start], reach),
            entries: Entries::default(),
        }
    }

    /// The subjects to look up next; empty when done.
    pub fn wanted(&mut self) -> Vec<SubjectId> {
        self.links.wanted()
    }

    /// Takes in every entry [`about`](crate::log::about()) `id`.
    pub fn give<B: Borrow<ReceivedEntry>>(&mut self, id: SubjectId, about: impl IntoIterator<Item = B>) {
        let about: Vec<B> = about.into_iter().collect();
        if !self.links.give(id, &about) {
            return;
        }
        // The entries that only link to it are given with their own subject, if that belongs to the history.
        let all = about.iter().map(<B as Borrow<ReceivedEntry>>::borrow);
        for received in all.filter(|received| received.entry.subject.id == id) {
            self.entries.take(received.clone());
        }
    }

    /// Folds what was collected.
    pub fn finish(self) -> PairHistory {
        let sameness = self.links.sameness();
        let (id, same) = (sameness.canonical(self.start), sameness.class(self.start));
        let things = self.things(&sameness);
        let jobs = jobs(&things, &same);
        let hung_on: BTreeSet<_> = inserted(jobs.values().filter_map(JobState::ticket));
        let ticket = |entries: &[&ReceivedEntry]| TicketState::of(entries.iter().copied());
        let mut tickets = of_kind(&things, &SubjectKind::Ticket, &ticket);
        for (ids, _) in &mut tickets {
            ids.retain(|id| hung_on.contains(id));
        }
        let customer = |entries: &[&ReceivedEntry]| CustomerState::of(entries.iter().copied());
        let customers = of_kind(&things, &SubjectKind::Customer, &customer);
        let own = things.get(&id).map_or(&[][..], |pair| &pair.entries[..]);
        PairHistory {
            id,
            pair: PairState::of(own.iter().copied()),
            customers: SubjectMap::shared(customers),
            tickets: SubjectMap::shared(tickets),
            read: inserted(self.links.read()),
            same,
            jobs,
        }
    }

    fn things(&self, sameness: &Sameness) -> LoadedThings<'_> {
        let mut things = LoadedThings::new();
        for (id, kind) in self.links.members() {
            let thing = things.entry(sameness.canonical(id)).or_default();
            thing.ids.push((id, kind));
        }
        for received in self.entries.iter() {
            if let Some(thing) = things.get_mut(&sameness.canonical(received.entry.subject.id)) {
                thing.entries.push(received);
            }
        }
        things
    }
}

/// The jobs of a pair with these ids.
fn jobs(things: &LoadedThings<'_>, pair: &BTreeSet<SubjectId>) -> BTreeMap<SubjectId, JobState> {
    let job = |entries: &[&ReceivedEntry]| JobState::of(entries.iter().copied());
    let mut jobs = BTreeMap::new();
    for (ids, state) in of_kind(things, &SubjectKind::Job, &job) {
        if state.pair().is_some_and(|of| pair.contains(&of)) {
            let listed = ids.into_iter().take(JOB_IDS);
            jobs.extend(listed.map(|id| (id, state.clone())));
        }
    }
    jobs
}

/// The things of a kind, each with its ids and its state, which is folded once however many ids it has.
fn of_kind<S>(
    things: &LoadedThings<'_>,
    kind: &SubjectKind,
    state: &dyn Fn(&[&ReceivedEntry]) -> S,
) -> Vec<(Vec<SubjectId>, S)> {
    let of_kind = things.values().filter_map(|thing| {
        let ids = thing.ids.iter().filter(|(_, own)| *own == kind);
        let ids: Vec<_> = ids.map(|(id, _)| *id).collect();
        (!ids.is_empty()).then(|| (ids, state(&thing.entries)))
    });
    of_kind.collect()
}

#[cfg(test)]
mod tests;
