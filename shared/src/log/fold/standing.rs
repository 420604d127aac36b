//! Reads the standing entries of a subject kind by kind. The states are built from these functions.

use std::collections::{BTreeMap, BTreeSet};

use super::item::{AgreedLine, Item, Slot};
use crate::log::body::{Agreed, Body, BodyKind, ErasureAsked};
use crate::log::entry::EntryId;
use crate::log::inserted;
use crate::log::supersession::{ReadEntry, Supersession};

pub(super) fn item<T>(read: &ReadEntry<'_>, body: T) -> Item<T> {
    let entry = &read.received.entry;
    Item {
        entry: entry.id,
        at: entry.made_at,
        person: entry.person,
        body,
    }
}

/// SHA-256 of the blobs that entries of this subject destroy. An erasure cannot be retracted.
pub(super) fn destroyed(standing: &Supersession<'_>) -> BTreeSet<String> {
    let blob = |read: &ReadEntry<'_>| match &read.body {
        Body::Erased(erased) => erased.blob.clone(),
        _ => None,
    };
    inserted(standing.history().iter().filter_map(blob))
}

/// The requests for an erasure that nobody has called off. Only a retraction calls one off, and not an entry in its place: the
/// server reads no others.
pub(super) fn requests(standing: &Supersession<'_>) -> Vec<Item<ErasureAsked>> {
    let request = |read: &ReadEntry<'_>| match &read.body {
        Body::ErasureAsked(asked) => Some(item(read, asked.clone())),
        _ => None,
    };
    standing.unretracted().filter_map(request).collect()
}

/// These requests, but for those that an erasure on the device has fulfilled.
pub(super) fn open_requests(standing: &Supersession<'_>) -> Vec<Item<ErasureAsked>> {
    let (whole, blobs) = (erased(standing), destroyed(standing));
    let mut open = requests(standing);
    open.retain(|asked| match &asked.body.blob {
        Some(hash) => !blobs.contains(hash),
        None => !whole,
    });
    open
}

/// The standing entries of one kind, in order.
pub(super) fn list<T: BodyKind>(standing: &Supersession<'_>) -> Vec<Item<T>> {
    let heads = standing.heads(&|read| T::of(&read.body).is_some());
    heads
        .into_iter()
        .filter_map(|read| Some(item(read, T::of(&read.body)?.clone())))
        .collect()
}

/// The current value of a field of one kind.
pub(super) fn slot<T: BodyKind>(standing: &Supersession<'_>) -> Option<Slot<T>> {
    current(list(standing))
}

/// The current value among standing ones, in order.
pub(super) fn current<T>(mut standing: Vec<Item<T>>) -> Option<Slot<T>> {
    let current = standing.pop()?;
    Some(Slot {
        current,
        rivals: standing,
    })
}

/// The withdrawals that stand.
pub(super) fn withdrawn(standing: &Supersession<'_>) -> BTreeSet<EntryId> {
    let withdrawals = standing
        .unretracted()
        .filter(|read| matches!(read.body, Body::Withdrawn(_)));
    inserted(withdrawals.map(ReadEntry::id))
}

/// Whether an erasure has blanked this subject.
pub(super) fn erased(standing: &Supersession<'_>) -> bool {
    let whole = |read: &ReadEntry<'_>| matches!(&read.body, Body::Erased(erased) if erased.blob.is_none());
    standing.history().iter().any(whole)
}

/// Entries made by a newer app, which this one keeps but cannot show.
pub(super) fn newer(standing: &Supersession<'_>) -> Vec<EntryId> {
    standing
        .unretracted()
        .filter(|read| read.body == Body::Unknown && !read.received.entry.is_blank())
        .map(ReadEntry::id)
        .collect()
}

/// Groups the standing versions of agreed work into lines: versions that descend from one entry are one line.
pub(super) fn agreed(standing: &Supersession<'_>) -> Vec<AgreedLine> {
    let history = AgreedHistory::of(standing);
    let mut lines: Vec<AgreedLine> = Vec::new();
    for mut version in list::<Agreed>(standing) {
        let mut family = history.family(version.entry);
        version.body = history.inherited(version.entry, version.body);
        let mut versions = vec![version];
        let (related, apart): (Vec<_>, Vec<_>) = lines
            .into_iter()
            .partition(|line| !line.family.is_disjoint(&family));
        for other in related.into_iter().rev() {
            family.extend(other.family);
            versions.splice(0..0, other.versions);
        }
        lines = apart;
        lines.push(AgreedLine { versions, family });
    }
    lines
}

/// Every entry of agreed work, and what each replaces.
struct AgreedHistory<'a> {
    entries: BTreeMap<EntryId, (&'a [EntryId], &'a Agreed)>,
}

impl<'a> AgreedHistory<'a> {
    fn of(standing: &'a Supersession<'_>) -> Self {
        let entries = standing.history().iter().filter_map(|read| match &read.body {
            Body::Agreed(agreed) => Some((read.id(), (read.received.entry.over.as_slice(), agreed))),
            _ => None,
        });
        Self {
            entries: inserted(entries),
        }
    }

    /// The entries that an entry names as replaced.
    fn over(&self, id: EntryId) -> &'a [EntryId] {
        self.entries.get(&id).map_or(&[], |(over, _)| over)
    }

    /// An entry and everything it replaces, directly or indirectly. Ids of entries that are not in the store count too,
    /// so that a missing entry does not split a line.
    fn family(&self, id: EntryId) -> BTreeSet<EntryId> {
        let mut all = BTreeSet::new();
        all.insert(id);
        let mut frontier = vec![id];
        while let Some(next) = frontier.pop() {
            frontier.extend(self.over(next).iter().filter(|over| all.insert(**over)));
        }
        all
    }

    /// A line with what it does not say itself, from the lines it replaces of the same operation, the nearest first.
    fn inherited(&self, id: EntryId, mut line: Agreed) -> Agreed {
        let mut seen = BTreeSet::from([id]);
        let mut frontier = vec![id];
        while !frontier.is_empty() {
            let next = frontier.iter().flat_map(|id| self.over(*id));
            let next: Vec<EntryId> = next.copied().filter(|over| seen.insert(*over)).collect();
            for id in &next {
                if let Some((_, before)) = self.entries.get(id)
                    && before.operation == line.operation
                {
                    line = line.inheriting(before);
                }
            }
            frontier = next;
        }
        line
    }
}
