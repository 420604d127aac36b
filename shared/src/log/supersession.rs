//! Which entries of one subject stand: those that are neither retracted nor replaced.

use std::collections::{BTreeMap, BTreeSet};

use super::body::Body;
use super::entry::EntryId;
use super::inserted::inserted;
use super::received::ReceivedEntry;

/// An entry with the typed view of its body.
#[derive(Debug, Clone)]
pub struct ReadEntry<'a> {
    /// The entry.
    pub received: &'a ReceivedEntry,
    /// Its typed body.
    pub body: Body,
}

impl ReadEntry<'_> {
    /// The entry's id.
    pub fn id(&self) -> EntryId {
        self.received.entry.id
    }
}

/// The entries of one subject (or of several that are the same thing), in order, each with its standing.
///
/// - An entry is *retracted* when a standing retraction names it. A retraction can itself be retracted, which
///   brings back what it hid. Retractions that name each other in a circle hide nothing: no order of arrival
///   could decide between them. An erasure cannot be retracted.
/// - An entry is *replaced* when an unretracted entry names it in `over`, whatever their stamps say. Retracting
///   the replacement therefore revives it.
#[derive(Debug)]
pub struct Supersession<'a> {
    ordered: Vec<ReadEntry<'a>>,
    retracted: BTreeSet<EntryId>,
    replaced: BTreeSet<EntryId>,
}

impl<'a> Supersession<'a> {
    /// Reads entries in any order. Two copies of one entry must have been merged before.
    pub fn of(entries: impl IntoIterator<Item = &'a ReceivedEntry>) -> Self {
        let mut ordered: Vec<_> = entries
            .into_iter()
            .map(|received| ReadEntry {
                received,
                body: Body::of(&received.entry),
            })
            .collect();
        ordered.sort_by_key(|read| read.received.position());
        let retracted = retracted(&ordered);
        let standing = ordered.iter().filter(|read| !retracted.contains(&read.id()));
        let replaced = inserted(standing.flat_map(|read| {
            read.received
                .entry
                .over
                .iter()
                .copied()
                .filter(|id| *id != read.id())
        }));
        Self {
            ordered,
            retracted,
            replaced,
        }
    }

    /// Every entry, in order, whatever its standing: the subject's history.
    pub fn history(&self) -> &[ReadEntry<'a>] {
        &self.ordered
    }

    /// Whether an entry of this subject is hidden.
    pub fn is_retracted(&self, id: EntryId) -> bool {
        self.retracted.contains(&id)
    }

    /// Whether an unretracted entry replaces this one.
    pub fn is_replaced(&self, id: EntryId) -> bool {
        self.replaced.contains(&id)
    }

    /// The unretracted entries, in order.
    pub fn unretracted(&self) -> impl DoubleEndedIterator<Item = &ReadEntry<'a>> {
        self.ordered.iter().filter(|read| !self.is_retracted(read.id()))
    }

    /// The standing entries of `slot`, in order: the last one is the current value, any others are concurrent with it.
    ///
    /// `slot` picks the entries that say the same thing, for example one plain field. If entries replace each other in
    /// a circle, which no correct device writes, the greatest of them stands, so that no record is lost.
    pub fn heads<'s>(&'s self, slot: &dyn Fn(&ReadEntry<'a>) -> bool) -> Vec<&'s ReadEntry<'a>> {
        self.heads_of(self.ordered.iter().filter(|read| slot(read)))
    }

    /// The same as [`Supersession::heads`], for a caller that has already sorted the entries into slots. `slot` must be
    /// in order.
    pub fn heads_of<'s>(
        &'s self,
        slot: impl IntoIterator<Item = &'s ReadEntry<'a>>,
    ) -> Vec<&'s ReadEntry<'a>> {
        // There are few entries of one kind: only those are looked up among the retracted ones.
        let candidates: Vec<_> = slot
            .into_iter()
            .filter(|read| !self.is_retracted(read.id()))
            .collect();
        let heads: Vec<_> = candidates
            .iter()
            .copied()
            .filter(|read| !self.is_replaced(read.id()))
            .collect();
        if !heads.is_empty() || candidates.is_empty() {
            return heads;
        }
        let inside = |id: &EntryId| candidates.iter().any(|read| read.id() == *id);
        let replaced_from_outside = self
            .unretracted()
            .any(|read| !inside(&read.id()) && read.received.entry.over.iter().any(inside));
        if replaced_from_outside {
            return heads;
        }
        candidates.last().copied().into_iter().collect()
    }
}

/// The retracted entries: the least set closed under "named by a retraction that is not itself retracted".
fn retracted(ordered: &[ReadEntry<'_>]) -> BTreeSet<EntryId> {
    let mut namers: BTreeMap<EntryId, Vec<EntryId>> = BTreeMap::new();
    let mut undecided = BTreeSet::new();
    for read in ordered {
        if let Body::Retracted(retraction) = &read.body {
            undecided.insert(read.id());
            if retraction.entry != read.id() {
                namers.entry(retraction.entry).or_default().push(read.id());
            }
        }
    }
    let mut standing = BTreeSet::new();
    let mut fallen = BTreeSet::new();
    loop {
        let before = undecided.len();
        undecided.retain(|id| {
            let by = namers.get(id).map_or(&[][..], Vec::as_slice);
            if by.iter().any(|namer| standing.contains(namer)) {
                fallen.insert(*id);
            } else if by.iter().all(|namer| fallen.contains(namer)) {
                standing.insert(*id);
            } else {
                return true;
            }
            false
        });
        if undecided.len() == before {
            break;
        }
    }
    let erasure = |id: &EntryId| {
        ordered
            .iter()
            .any(|read| read.id() == *id && read.received.entry.kind == "erased")
    };
    let named = namers
        .into_iter()
        .filter(|(target, by)| by.iter().any(|namer| standing.contains(namer)) && !erasure(target));
    inserted(named.map(|(target, _)| target))
}
