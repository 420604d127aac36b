//! Which entries of one subject stand: those that are neither retracted nor replaced.

use std::collections::{BTreeMap, BTreeSet};

use serde_json::Value;

use super::body::{Body, MentionErased};
use super::entry::{EntryId, SubjectId};
use super::erasure::is_erasure;
use super::inserted::inserted;
use super::left::left_by_all;
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
    /// Reads entries in any order. Two copies of one entry must have been merged before. An entry that was blanked for a
    /// mention reads as what is left of it.
    pub fn of(entries: impl IntoIterator<Item = &'a ReceivedEntry>) -> Self {
        let mut ordered: Vec<_> = entries
            .into_iter()
            .map(|received| ReadEntry {
                received,
                body: Body::of(&received.entry),
            })
            .collect();
        ordered.sort_by_key(|read| read.received.position());
        fill_in(&mut ordered);
        #[cfg(test)]
        counted::add(ordered.len());
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
        let own: BTreeSet<EntryId> = inserted(candidates.iter().map(|read| read.id()));
        let inside = |id: &EntryId| own.contains(id);
        let replaced_from_outside = self
            .unretracted()
            .any(|read| !inside(&read.id()) && read.received.entry.over.iter().any(inside));
        if replaced_from_outside {
            return heads;
        }
        candidates.last().copied().into_iter().collect()
    }
}

/// Gives every entry that was blanked for a mention the content that the erasing entries have left of it. If there are
/// several, because different people were mentioned, what all of them have left remains. An erasing entry can itself have
/// been blanked for another mention; where it is missing, because no server has taken it, what the other one has left of
/// it is read in its place.
fn fill_in(ordered: &mut [ReadEntry<'_>]) {
    let is_mention = |kind: &str| kind == "mention_erased";
    let are_blank = |read: &&ReadEntry<'_>| {
        let entry = &read.received.entry;
        entry.is_blank() && is_mention(&entry.kind)
    };
    // Each round reads what the round before has filled, and every row of them ends after so many.
    for _ in 0..ordered.iter().filter(are_blank).count() {
        if !fill_in_kind(ordered, &is_mention) {
            break;
        }
    }
    fill_in_kind(ordered, &|kind| !is_erasure(kind));
}

/// The same for the entries of some kinds. Returns whether that has changed any.
fn fill_in_kind(ordered: &mut [ReadEntry<'_>], fills: &dyn Fn(&str) -> bool) -> bool {
    let left = left(ordered);
    let mut changed = false;
    for read in ordered.iter_mut() {
        let entry = &read.received.entry;
        if let Some(contents) = left.get(&(entry.subject.id, entry.id))
            && entry.is_blank()
            && fills(&entry.kind)
        {
            let remains = left_by_all(&entry.kind, contents);
            let body = remains.map_or(Body::Unknown, |content| Body::of_value(&entry.kind, &content));
            changed |= body != read.body;
            read.body = body;
        }
    }
    changed
}

/// What the erasing entries have left of each entry, in their order.
fn left(ordered: &[ReadEntry<'_>]) -> BTreeMap<(SubjectId, EntryId), Vec<Value>> {
    let mut left: BTreeMap<(SubjectId, EntryId), Vec<Value>> = BTreeMap::new();
    for read in ordered {
        let Body::MentionErased(erased) = &read.body else {
            continue;
        };
        let subject = read.received.entry.subject.id;
        let is_here = |id: EntryId| {
            let mut all = ordered.iter();
            all.any(|read| read.id() == id && read.received.entry.subject.id == subject)
        };
        let mut next = Some(erased.clone());
        while let Some(MentionErased {
            entry,
            left: Some(content),
        }) = next
        {
            next = match Body::of_value("mention_erased", &content) {
                Body::MentionErased(inner) if !is_here(entry) => Some(inner),
                _ => None,
            };
            left.entry((subject, entry)).or_default().push(content);
        }
    }
    left
}

/// What is known of a retraction, or of an entry that one names, while the retracted entries are found.
#[derive(Default)]
struct Named {
    /// The entry that it retracts, if it is a retraction of another entry.
    target: Option<EntryId>,
    /// Whether it is a retraction.
    retracts: bool,
    /// How many retractions name it that are not themselves known to be retracted.
    against: usize,
}

/// The retracted entries: the least set closed under "named by a retraction that is not itself retracted". Each
/// retraction is looked at once.
fn retracted(ordered: &[ReadEntry<'_>]) -> BTreeSet<EntryId> {
    let mut named = retractions(ordered);
    let standing = named.iter().filter(|(_, one)| one.retracts && one.against == 0);
    let mut standing: Vec<_> = standing.map(|(id, _)| *id).collect();
    let mut hidden = BTreeSet::new();
    while let Some(by) = standing.pop() {
        let target = named.get(&by).and_then(|one| one.target);
        let Some(target) = target.filter(|target| hidden.insert(*target)) else {
            continue;
        };
        // A retraction that is hidden hides nothing. What it names stands if nothing else hides it.
        let Some(freed) = named.get(&target).and_then(|one| one.target) else {
            continue;
        };
        let one = named.entry(freed).or_default();
        one.against -= 1;
        if one.against == 0 && one.retracts && !hidden.contains(&freed) {
            standing.push(freed);
        }
    }
    for read in ordered
        .iter()
        .filter(|read| is_erasure(&read.received.entry.kind))
    {
        hidden.remove(&read.id());
    }
    hidden
}

/// Every retraction, and every entry that one names.
fn retractions(ordered: &[ReadEntry<'_>]) -> BTreeMap<EntryId, Named> {
    let mut named: BTreeMap<EntryId, Named> = BTreeMap::new();
    for read in ordered {
        if let Body::Retracted(retraction) = &read.body {
            let target = Some(retraction.entry).filter(|target| *target != read.id());
            let one = named.entry(read.id()).or_default();
            one.retracts = true;
            one.target = target;
            if let Some(target) = target {
                named.entry(target).or_default().against += 1;
            }
        }
    }
    named
}

/// Counts the entries that were read, for tests of how much work something is.
#[cfg(test)]
pub(crate) mod counted {
    use std::cell::Cell;

    thread_local! {
        static READ: Cell<usize> = const { Cell::new(0) };
    }

    pub(super) fn add(entries: usize) {
        READ.with(|read| read.set(read.get() + entries));
    }

    /// How many entries this work reads; one that is read twice counts twice.
    pub(crate) fn entries_read(work: impl FnOnce()) -> usize {
        let before = READ.with(Cell::get);
        work();
        READ.with(Cell::get) - before
    }
}
