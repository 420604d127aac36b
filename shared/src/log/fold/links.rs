//! Which subjects the history of a pair consists of, found by following the links of one look-up to the next.

use std::borrow::Borrow;
use std::collections::{BTreeMap, BTreeSet};

use crate::log::body::Body;
use crate::log::entry::{Entry, SubjectId, SubjectKind};
use crate::log::received::ReceivedEntry;
use crate::log::sameness::{Sameness, joins};

/// Which links are followed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Reach {
    /// All of them.
    Everything,
    /// Those between pairs, and to their jobs; not those to tickets and customers.
    PairsAndJobs,
}

/// The subjects to which one subject leads.
#[derive(Debug, Default)]
struct Leads {
    /// What its own standing `same_as` name, in order.
    same: Vec<SubjectId>,
    /// The subjects that name it in a `same_as`. Whether one stands is told by their own entries.
    named_by: Vec<SubjectId>,
    /// Its jobs, tickets and customers.
    others: Vec<(SubjectId, SubjectKind)>,
}

impl Leads {
    /// Reads them from every entry [`about`](crate::log::about()) a subject, which is read as this kind of thing.
    fn of<B: Borrow<ReceivedEntry>>(id: SubjectId, kind: &SubjectKind, about: &[B], reach: Reach) -> Self {
        let about: Vec<&ReceivedEntry> = about.iter().map(<B as Borrow<ReceivedEntry>>::borrow).collect();
        let (own, foreign): (Vec<_>, Vec<_>) = about
            .into_iter()
            .partition(|received| received.entry.subject.id == id);
        let mut leads = Self::default();
        for (received, other) in joins(own.iter().copied()) {
            if received.entry.subject.kind == *kind {
                leads.same.push(other);
            }
        }
        let opened = own.into_iter().filter(|received| received.entry.kind == "opened");
        if reach == Reach::Everything {
            leads
                .others
                .extend(opened.flat_map(|received| opened_for(&received.entry)));
        }
        for received in foreign {
            leads.note_foreign(&received.entry, kind);
        }
        for list in [&mut leads.same, &mut leads.named_by] {
            list.sort_unstable();
            list.dedup();
        }
        leads
    }

    /// Reads an entry of another subject that links to this one.
    fn note_foreign(&mut self, entry: &Entry, kind: &SubjectKind) {
        let subject = &entry.subject;
        match entry.kind.as_str() {
            "same_as" if subject.kind == *kind => self.named_by.push(subject.id),
            "opened" if *kind == SubjectKind::Pair && subject.kind == SubjectKind::Job => {
                self.others.push((subject.id, SubjectKind::Job));
            }
            _ => {}
        }
    }
}

/// The ticket and the customer for which something was opened.
fn opened_for(entry: &Entry) -> Vec<(SubjectId, SubjectKind)> {
    let Body::Opened(opened) = Body::of(entry) else {
        return Vec::new();
    };
    let ticket = opened.ticket.map(|ticket| (ticket, SubjectKind::Ticket));
    let customer = opened.customer.map(|customer| (customer, SubjectKind::Customer));
    ticket.into_iter().chain(customer).collect()
}

/// Finds the subjects of the history of a pair, or of several. Hand [`PairLinks::give`] what the store has about each of
/// [`PairLinks::wanted`] until nothing is wanted. Each subject is looked up once, and those that are found together can be
/// looked up together.
#[derive(Debug)]
pub struct PairLinks {
    reach: Reach,
    /// Every subject that was asked for, with the kind as which it is read.
    kinds: BTreeMap<SubjectId, SubjectKind>,
    /// Those that belong to the history. The others are looked up only to find out that they are not the same as one of
    /// these.
    members: BTreeSet<SubjectId>,
    leads: BTreeMap<SubjectId, Leads>,
    wanted: Vec<SubjectId>,
}

impl PairLinks {
    /// Begins at these pairs.
    pub fn of(pairs: &[SubjectId]) -> Self {
        Self::within(pairs, Reach::Everything)
    }

    /// Begins at these pairs, and follows only some links.
    pub(super) fn within(pairs: &[SubjectId], reach: Reach) -> Self {
        let mut links = Self {
            reach,
            kinds: BTreeMap::new(),
            members: BTreeSet::new(),
            leads: BTreeMap::new(),
            wanted: Vec::new(),
        };
        for pair in pairs {
            links.admit(*pair, &SubjectKind::Pair);
        }
        links
    }

    /// The subjects to look up next; empty when done.
    pub fn wanted(&mut self) -> Vec<SubjectId> {
        std::mem::take(&mut self.wanted)
    }

    /// Takes in every entry [`about`](crate::log::about()) a subject. Returns whether it was asked for.
    pub fn give<B: Borrow<ReceivedEntry>>(&mut self, id: SubjectId, about: &[B]) -> bool {
        let Some(kind) = self.kinds.get(&id) else {
            return false;
        };
        let leads = Leads::of(id, kind, about, self.reach);
        let is_member =
            |other: &SubjectId| self.members.contains(other) && self.kinds.get(other) == Some(kind);
        let joins_a_member = leads.same.iter().any(is_member);
        self.leads.insert(id, leads);
        if joins_a_member {
            self.members.insert(id);
        }
        if self.members.contains(&id) {
            self.follow(id);
        }
        true
    }

    /// Follows the links of a member that was looked up, and those of every subject that becomes one by that.
    fn follow(&mut self, id: SubjectId) {
        let mut new = vec![id];
        while let Some(id) = new.pop() {
            let Some(kind) = self.kinds.get(&id).cloned() else {
                continue;
            };
            for (other, kind) in self.leads_of(id, &kind) {
                if self.admit(other, &kind) {
                    new.push(other);
                }
            }
        }
    }

    /// The subjects that belong to the history because this one does. Those of which it is not known yet are looked up.
    fn leads_of(&mut self, id: SubjectId, kind: &SubjectKind) -> Vec<(SubjectId, SubjectKind)> {
        let Some(leads) = self.leads.get_mut(&id) else {
            return Vec::new();
        };
        let named_by = std::mem::take(&mut leads.named_by);
        let mut belong = std::mem::take(&mut leads.others);
        belong.extend(leads.same.iter().map(|other| (*other, kind.clone())));
        for other in named_by {
            match self.leads.get(&other) {
                Some(leads) if leads.same.binary_search(&id).is_ok() => belong.push((other, kind.clone())),
                Some(_) => {}
                None => self.want(other, kind),
            }
        }
        belong
    }

    /// Makes a subject a member. Returns whether it was none before.
    fn admit(&mut self, id: SubjectId, kind: &SubjectKind) -> bool {
        self.want(id, kind);
        self.members.insert(id)
    }

    /// Has a subject looked up, unless it was asked for already.
    fn want(&mut self, id: SubjectId, kind: &SubjectKind) {
        if let std::collections::btree_map::Entry::Vacant(free) = self.kinds.entry(id) {
            free.insert(kind.clone());
            self.wanted.push(id);
        }
    }

    /// The members, in order, each with the kind as which it is read.
    pub(super) fn members(&self) -> impl Iterator<Item = (SubjectId, &SubjectKind)> {
        let kinds = &self.kinds;
        self.members
            .iter()
            .filter_map(move |id| Some((*id, kinds.get(id)?)))
    }

    /// Every subject that was looked up.
    pub(super) fn read(&self) -> impl Iterator<Item = SubjectId> {
        self.kinds.keys().copied()
    }

    /// Which of the members are the same thing.
    pub(super) fn sameness(&self) -> Sameness {
        let joins = self
            .members()
            .filter_map(|(id, _)| Some((id, self.leads.get(&id)?)))
            .flat_map(|(id, leads)| leads.same.iter().map(move |other| (id, *other)));
        Sameness::of(joins)
    }
}
