//! The rules for accepting entries, as a pure function of the batch and of what is stored.

use std::collections::{BTreeSet, HashMap, HashSet};

use shared::log::{Body, Entry, EntryId, Erasures, Merged, ReceivedEntry, SubjectId, SubjectKind, UnixMs};
use shared::sync::messages::PushOutcome;
use shared::sync::{Code, Problem};

use super::{is_news, named, reading::refusal};
use crate::store::{BlobHash, NewEntry, Numbered, Numbering, StoredEntry};
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
    /// Every subject id that is the shop's, if the batch erases anything; else empty.
    pub(super) shops: HashSet<SubjectId>,
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

/// Whether this entry erases everything about its subject, and not only a photograph.
pub(super) fn erases_subject(entry: &Entry) -> bool {
    matches!(Body::of(entry), Body::Erased(erased) if erased.blob.is_none())
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
        }
    }

    fn note_erasures(&mut self, batch: &[Result<ReceivedEntry, Problem>]) {
        for held in batch.iter().flatten().filter(|held| held.entry.kind == "erased") {
            if self.erases_shop(&held.entry) {
                continue;
            }
            let stored = self.known.stored.get(&held.entry.id);
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

    fn erases_shop(&self, entry: &Entry) -> bool {
        let shop = entry.subject.kind == SubjectKind::Shop || self.known.shops.contains(&entry.subject.id);
        shop && erases_subject(entry)
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
            self.orphans.extend(named::blobs(&held.entry));
            held.entry.body.clear();
        }
        if self.known.stored.contains_key(&held.entry.id) {
            self.merge(&held)
        } else {
            self.add(held)
        }
    }

    fn merge(&mut self, held: &ReceivedEntry) -> Result<UnixMs, Problem> {
        let id = held.entry.id;
        let Some(stored) = self.known.stored.get(&id) else {
            return Ok(self.received);
        };
        let (seq, was_blank) = (stored.seq, stored.held.entry.is_blank());
        let mut now = stored.held.clone();
        let merged = now.merge(held, &self.erasures);
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
            Some(_) => Err(refusal(
                Code::LinkTaken,
                words::refusals::card_link_of_another_pair().to_owned(),
            )),
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
        }
    }
}

fn new_entry(stored: StoredEntry) -> NewEntry {
    let about = shared::log::about(&stored.held.entry);
    let named = named::blobs(&stored.held.entry);
    NewEntry { stored, about, named }
}

fn id_taken() -> Problem {
    refusal(
        Code::IdTaken,
        words::refusals::number_of_another_entry().to_owned(),
    )
}

fn erasure_unknown() -> Problem {
    refusal(
        Code::ErasureUnknown,
        words::refusals::empty_without_erasure().to_owned(),
    )
}

fn not_erasable() -> Problem {
    refusal(
        Code::NotErasable,
        words::refusals::shop_cannot_be_erased().to_owned(),
    )
}
