//! Reads the standing entries of a subject kind by kind. The states are built from these functions.

use std::collections::{BTreeMap, BTreeSet};

use super::item::{AgreedLine, Item, Slot};
use crate::log::body::{Body, BodyKind, ErasureAsked};
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
    let versions = list(standing);
    let all = standing.history().iter();
    let parents: BTreeMap<EntryId, &[EntryId]> = inserted(
        all.filter(|read| matches!(read.body, Body::Agreed(_)))
            .map(|read| (read.id(), read.received.entry.over.as_slice())),
    );
    let mut lines: Vec<(BTreeSet<EntryId>, AgreedLine)> = Vec::new();
    for version in versions {
        let mut family = ancestors(version.entry, &parents);
        let mut line = AgreedLine {
            versions: vec![version],
        };
        let (related, apart): (Vec<_>, Vec<_>) = lines
            .into_iter()
            .partition(|(known, _)| !known.is_disjoint(&family));
        for (known, other) in related.into_iter().rev() {
            family.extend(known);
            line.versions.splice(0..0, other.versions);
        }
        lines = apart;
        lines.push((family, line));
    }
    lines.into_iter().map(|(_, line)| line).collect()
}

/// An entry and everything it replaces, directly or indirectly. Ids of entries that are not in the store count too, so
/// that a missing entry does not split a line.
fn ancestors(id: EntryId, parents: &BTreeMap<EntryId, &[EntryId]>) -> BTreeSet<EntryId> {
    let mut all = BTreeSet::new();
    all.insert(id);
    let mut frontier = vec![id];
    while let Some(next) = frontier.pop() {
        frontier.extend(
            parents
                .get(&next)
                .into_iter()
                .copied()
                .flatten()
                .filter(|over| all.insert(**over)),
        );
    }
    all
}
