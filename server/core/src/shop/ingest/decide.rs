//! The rules for accepting entries, as a pure function of the batch and of what is stored.

use std::collections::{BTreeSet, HashMap, HashSet};

use shared::log::{
    Body, DeviceId, Entry, EntryId, Erasures, Merged, ReceivedEntry, SubjectId, SubjectKind, UnixMs,
    is_erasure,
};
use shared::sync::Problem;
use shared::sync::messages::{KeptAside, PushOutcome};

use super::aside::Aside;
use super::day_limit::DayLimit;
use super::refusals::{
    dropped_by_repairer, erased, erasure_unknown, id_taken, link_taken, not_erasable, too_many_erasures,
};
use super::rights::Rights;
use super::{is_news, named};
use crate::store::{BlobHash, CountedErasure, NewEntry, Numbered, Numbering, PushedBy, StoredEntry};
use crate::world::World;

/// What the database has for a batch before it is accepted.
pub(super) struct BatchContext {
    /// The server's time, ms since 1970.
    pub(super) now: UnixMs,
    /// The row with the counters.
    pub(super) counter: Numbering,
    /// Those entries of the batch that are stored already.
    pub(super) stored: HashMap<EntryId, StoredEntry>,
    /// The first numbers of those of the batch's subjects that are known.
    pub(super) subjects: HashMap<SubjectId, u64>,
    /// The pairs of those of the batch's card links that are known.
    pub(super) links: HashMap<String, SubjectId>,
    /// The device that pushes the batch; `None` for the server itself.
    pub(super) pushed_by: Option<DeviceId>,
    /// What the device that pushes may write.
    pub(super) rights: Rights,
    /// What is kept aside of the batch.
    pub(super) aside: Aside,
    /// How much may still be erased today.
    pub(super) day_limit: DayLimit,
}

/// What has to be written and answered.
pub(super) struct Decision {
    /// The answer for each entry of the batch, in its order.
    pub(super) results: Vec<PushOutcome>,
    /// Entries to be stored for the first time.
    pub(super) inserts: Vec<NewEntry>,
    /// Stored entries that get an earlier `received`, or whose body is blanked.
    pub(super) changed: Vec<StoredEntry>,
    /// Stored entries that were blank without an erasure, and whose content is in this batch.
    pub(super) filled: Vec<NewEntry>,
    /// New rows of the feed, by which devices learn of entries.
    pub(super) feed: Vec<Numbered>,
    /// Card links that are given to a pair for the first time.
    pub(super) links: Vec<(String, SubjectId)>,
    /// The row with the counters as it is to be written.
    pub(super) counter: Numbering,
    /// Erasures that were not known, or are stored only now.
    pub(super) erased: Vec<ReceivedEntry>,
    /// All erasures, including those of this batch.
    pub(super) erasures: Erasures,
    /// Blobs that are named by entries of the batch whose content is not stored because it is erased.
    pub(super) orphans: BTreeSet<BlobHash>,
    /// Who has pushed the batch.
    pub(super) pushed_by: PushedBy,
    /// Entries to be kept aside.
    pub(super) aside: Vec<KeptAside>,
    /// The erasures that count from now on, if that has changed.
    pub(super) counted: Option<Vec<CountedErasure>>,
}

impl Decision {
    /// Notes the blobs that an entry names whose content goes because it is erased. They stay if only a mention in the entry
    /// is erased.
    pub(super) fn orphan_blobs_of(&mut self, entry: &Entry) {
        if self.erasures.covers_kind(&entry.subject, &entry.kind) {
            self.orphans.extend(named::blobs(entry));
        }
    }
}

/// Decides about a batch. An erasure applies to the whole batch, also to entries before it.
pub(super) fn decide(
    batch: Vec<Result<ReceivedEntry, Problem>>,
    known: BatchContext,
    erasures: &Erasures,
    world: &dyn World,
) -> Decision {
    let mut deciding = Deciding::new(known, erasures.clone());
    deciding.note_erasures(&batch);
    let results = batch
        .into_iter()
        .map(|read| match read.and_then(|held| deciding.take(held)) {
            Ok(received) => PushOutcome::Accepted { received },
            Err(problem) => PushOutcome::Refused(problem),
        })
        .collect();
    deciding.finish(results, world)
}

/// The secret of a card link, if this entry gives one to its pair.
pub(in crate::shop) fn secret(entry: &Entry) -> Option<String> {
    match Body::of(entry) {
        Body::CardLink(link) if entry.subject.kind == SubjectKind::Pair && is_secret(&link.secret) => {
            Some(link.secret)
        }
        _ => None,
    }
}

fn is_secret(text: &str) -> bool {
    text.len() == 32 && text.bytes().all(|b| matches!(b, b'0'..=b'9' | b'a'..=b'f'))
}

/// Whether this entry erases what is said about its subject, and not only a photograph, or asks for that.
pub(super) fn erases_content(entry: &Entry) -> bool {
    match entry.kind.as_str() {
        "mention_erased" => return true,
        "erased" | "erasure_asked" => {}
        _ => return false,
    }
    match Body::of(entry) {
        Body::Erased(erased) => erased.blob.is_none(),
        Body::ErasureAsked(asked) => asked.blob.is_none(),
        _ => false,
    }
}

/// A decision while the entries of a batch are taken one by one.
struct Deciding {
    known: BatchContext,
    received: UnixMs,
    erasures: Erasures,
    erased: Vec<ReceivedEntry>,
    orphans: BTreeSet<BlobHash>,
    /// Entries of this batch that were not stored before, in order.
    fresh: Vec<EntryId>,
    /// Stored entries that this batch changes, in order.
    changed: Vec<EntryId>,
    /// Those of `changed` that were blank and get their content from this batch.
    filled: HashSet<EntryId>,
    /// Entries of both kinds: those that get a new number in this batch.
    numbered: HashSet<EntryId>,
    links: Vec<(String, SubjectId)>,
    /// The first numbers of the entries that get a new row in the feed, in its order.
    to_number: Vec<u64>,
    /// Erasures beyond what is taken today.
    beyond_limit: HashSet<EntryId>,
}

impl Deciding {
    fn new(known: BatchContext, erasures: Erasures) -> Self {
        Self {
            // `received` never decreases, even if the server's clock does.
            received: known.now.max(known.counter.last_received),
            known,
            erasures,
            erased: Vec::new(),
            orphans: BTreeSet::new(),
            fresh: Vec::new(),
            changed: Vec::new(),
            filled: HashSet::new(),
            numbered: HashSet::new(),
            links: Vec::new(),
            to_number: Vec::new(),
            beyond_limit: HashSet::new(),
        }
    }

    fn note_erasures(&mut self, batch: &[Result<ReceivedEntry, Problem>]) {
        // Another device's erasure is not taken; one that is stored already has erased.
        if self.known.rights.limited.is_some() {
            return;
        }
        for held in batch.iter().flatten().filter(|held| is_erasure(&held.entry.kind)) {
            if self.erases_shop(&held.entry) {
                continue;
            }
            let stored = self.known.stored.get(&held.entry.id);
            if stored.is_none() && !self.known.day_limit.takes(&held.entry, &self.erasures) {
                self.beyond_limit.insert(held.entry.id);
                continue;
            }
            // An erasure whose commit failed, for example on a full disk, is known but has not blanked anything yet.
            let new_here = stored.is_none() && !held.entry.is_blank();
            let mut merged = stored.map_or_else(|| held.clone(), |s| s.held.clone());
            if merged.merge(held, &self.erasures) != Merged::Conflict
                && (is_news(&mut self.erasures, held) || new_here)
            {
                merged.received = Some(merged.received.map_or(self.received, |r| r.min(self.received)));
                self.erased.push(merged);
            }
        }
    }

    /// Whether the blobs that this covered entry names go with it. What is erased of a mention are its words.
    fn destroys_blobs(&self, entry: &Entry) -> bool {
        self.erasures.covers_kind(&entry.subject, &entry.kind)
    }

    fn erases_shop(&self, entry: &Entry) -> bool {
        erases_content(entry) && self.known.rights.is_shop(&entry.subject)
    }

    /// Takes one entry. Returns when the server first received it, or why it is refused.
    fn take(&mut self, mut held: ReceivedEntry) -> Result<UnixMs, Problem> {
        if self.erases_shop(&held.entry) {
            return Err(not_erasable());
        }
        if self.erasures.leaves_unexplained(&held.entry) {
            return Err(erasure_unknown());
        }
        if self.erasures.covers(&held.entry) && !held.entry.is_blank() {
            if self.destroys_blobs(&held.entry) && self.known.rights.may_bring(&held.entry) {
                self.orphans.extend(named::blobs(&held.entry));
            }
            held.entry.body.clear();
        }
        let is_stored = self.known.stored.contains_key(&held.entry.id);
        if !is_stored {
            self.admit(&held)?;
        }
        if !self.known.rights.is_believed(held.entry.id) {
            held.received = None;
        }
        if is_stored {
            self.merge(held)
        } else {
            self.add(held)
        }
    }

    /// Checks whether the device may write this new entry. If it may not, the entry is kept aside.
    fn admit(&mut self, held: &ReceivedEntry) -> Result<(), Problem> {
        let entry = &held.entry;
        if self.beyond_limit.contains(&entry.id) {
            return Err(too_many_erasures());
        }
        let Some(member) = &self.known.rights.limited else {
            return Ok(());
        };
        if self.known.aside.is_dropped(entry.id) {
            return Err(dropped_by_repairer());
        }
        if self.known.rights.may_enter(entry, &self.known.stored) {
            return Ok(());
        }
        if self.erasures.covers(entry) {
            return Err(erased());
        }
        Err(self.known.aside.keep(KeptAside {
            entry: held.clone(),
            device: member.device,
            arrived: self.known.now,
        }))
    }

    fn merge(&mut self, mut held: ReceivedEntry) -> Result<UnixMs, Problem> {
        let id = held.entry.id;
        let Some(stored) = self.known.stored.get(&id) else {
            return Ok(self.received);
        };
        let (seq, was_blank) = (stored.seq, stored.held.entry.is_blank());
        let mut now = stored.held.clone();
        if was_blank && !self.known.rights.may_fill(&held.entry, &self.known.stored) {
            held.entry.body.clear();
        }
        let merged = now.merge(&held, &self.erasures);
        if merged == Merged::Conflict {
            return Err(id_taken());
        }
        if was_blank && !now.entry.is_blank() {
            self.bind_link(&now.entry)?;
            self.filled.insert(id);
        }
        // Every device has to learn of the change: the entry gets a new number, unless it has one from this batch.
        if merged == Merged::Changed && self.numbered.insert(id) {
            self.changed.push(id);
            self.to_number.push(seq);
        }
        let received = now.received.unwrap_or(self.received);
        if let Some(stored) = self.known.stored.get_mut(&id) {
            stored.held = now;
        }
        Ok(received)
    }

    fn add(&mut self, mut held: ReceivedEntry) -> Result<UnixMs, Problem> {
        self.bind_link(&held.entry)?;
        let received = held
            .received
            .map_or(self.received, |carried| carried.min(self.received));
        held.received = Some(received);
        let seq = self.known.counter.seq + self.to_number.len() as u64 + 1;
        let subject_seq = *self.known.subjects.entry(held.entry.subject.id).or_insert(seq);
        self.to_number.push(seq);
        self.fresh.push(held.entry.id);
        self.numbered.insert(held.entry.id);
        self.known.stored.insert(
            held.entry.id,
            StoredEntry {
                held,
                seq,
                subject_seq,
            },
        );
        Ok(received)
    }

    fn bind_link(&mut self, entry: &Entry) -> Result<(), Problem> {
        let Some(secret) = secret(entry) else {
            return Ok(());
        };
        match self.known.links.get(&secret) {
            Some(pair) if *pair == entry.subject.id => Ok(()),
            Some(_) => Err(link_taken()),
            None => {
                self.known.links.insert(secret.clone(), entry.subject.id);
                self.links.push((secret, entry.subject.id));
                Ok(())
            }
        }
    }

    fn finish(mut self, results: Vec<PushOutcome>, world: &dyn World) -> Decision {
        let first = self.known.counter.seq;
        let feed: Vec<_> = (first + 1..)
            .zip(&self.to_number)
            .map(|(seq, entry)| Numbered {
                seq,
                mark: world.uuid(),
                entry: *entry,
            })
            .collect();
        let mut take = |ids: Vec<EntryId>| -> Vec<StoredEntry> {
            ids.iter().filter_map(|id| self.known.stored.remove(id)).collect()
        };
        let (fresh, changed) = (take(self.fresh), take(self.changed));
        let (filled, changed): (Vec<_>, Vec<_>) = changed
            .into_iter()
            .partition(|stored| self.filled.contains(&stored.held.entry.id));
        let mut counter = self.known.counter;
        if !fresh.is_empty() {
            counter.last_received = self.received;
        }
        counter.seq = first + feed.len() as u64;
        Decision {
            results,
            inserts: fresh.into_iter().map(new_entry).collect(),
            changed,
            filled: filled.into_iter().map(new_entry).collect(),
            feed,
            links: self.links,
            counter,
            erased: self.erased,
            erasures: self.erasures,
            orphans: self.orphans,
            pushed_by: PushedBy {
                device: self.known.pushed_by,
                at: self.known.now,
            },
            aside: self.known.aside.new,
            counted: self.known.day_limit.counted(),
        }
    }
}

fn new_entry(stored: StoredEntry) -> NewEntry {
    let about = shared::log::about(&stored.held.entry);
    let named = named::blobs(&stored.held.entry);
    NewEntry { stored, about, named }
}
