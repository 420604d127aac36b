//! Requests for an erasure: what the device writes when the server takes no more erasures today, and the erasures
//! themselves once the server tells that they are due.

use shared::log::body::{Body, Erased, ErasureAsked};
use shared::log::fold::{Entries, erasures_asked};
use shared::log::{Draft, Erasures, ReceivedEntry, SubjectId};
use shared::sync::{Code, Problem};

use crate::store::KvStore;
use crate::store::change::RecordChange;
use crate::store::error::StoreError;
use crate::store::ingest;
use crate::store::kv::{Kv, KvTx, Mode};
use crate::store::lookup::Lookup;
use crate::store::meta::Meta;
use crate::store::record::Record;
use crate::store::summaries;
use crate::store::surroundings::Surroundings;
use crate::store::tables::{TAIL, index};
use crate::store::writing::Writing;

/// Erasures that are read at a time.
const PAGE: u32 = 1000;

impl<K: Kv, S: Surroundings> KvStore<K, S> {
    /// What was erased on this device and has no effect yet, because the server has not accepted it.
    ///
    /// # Errors
    /// When the database fails.
    pub async fn erasures_waiting(&self) -> Result<Erasures, StoreError> {
        let tx = self.kv.begin(&[TAIL], Mode::Read).await?;
        // Erasures come before all other entries.
        let rows = tx.in_index(TAIL, index::UNSENT, "", PAGE).await?;
        let mut waiting = Erasures::default();
        let records = rows.iter().filter_map(Record::read);
        for record in records.filter(|record| record.left_out) {
            waiting.note(&record.received.entry);
        }
        Ok(waiting)
    }

    /// Writes the erasures that these requests ask for. Left out are those that were called off on this device
    /// meanwhile, and those of which an erasure is on the device already.
    ///
    /// # Errors
    /// As [`KvStore::save`].
    pub async fn write_due(&self, requests: &[ReceivedEntry]) -> Result<(), StoreError> {
        let mut writing = self.write(Mode::WriteStrict).await?;
        let mut drafts: Vec<Draft> = Vec::new();
        for request in requests {
            if let Some(draft) = erasure(request)
                && !contains(&drafts, &draft)
                && stands(&writing.lookup, request).await?
                && !is_written(&writing.lookup, &draft).await?
            {
                drafts.push(draft);
            }
        }
        let saved = self.stamp(&mut writing.meta, drafts)?;
        let touched = ingest::add(&mut writing, saved.entries).await?;
        summaries::refresh(&mut writing, touched).await?;
        self.finish(writing).await
    }

    /// Makes entries of these requests, except of those for which one stands already.
    pub(in crate::store) async fn ask_for_erasures(
        &self,
        writing: &mut Writing<K::Tx>,
        requests: Vec<Draft>,
    ) -> Result<Vec<RecordChange>, StoreError> {
        let mut drafts: Vec<Draft> = Vec::new();
        for draft in requests {
            if !contains(&drafts, &draft) && !is_asked(&writing.lookup, &draft).await? {
                drafts.push(draft);
            }
        }
        let saved = self.stamp(&mut writing.meta, drafts)?;
        let made = saved.entries.into_iter();
        Ok(made
            .map(|received| ingest::made_here(&writing.meta, received))
            .collect())
    }
}

/// The request in place of an erasure that the server refused because it takes no more today; `None` for any other
/// refusal.
///
/// A device that never joined a shop has erased at once. A request about such a subject would be blank: its erasure stays
/// refused, and can be sent again another day.
pub(super) fn in_its_place(meta: &Meta, record: &Record, problem: &Problem) -> Option<Draft> {
    let entry = &record.received.entry;
    let Body::Erased(Erased { blob }) = Body::of(entry) else {
        return None;
    };
    let body = Body::ErasureAsked(ErasureAsked { blob });
    let is_blank = meta.erasures.covers_kind(&entry.subject, body.kind()?);
    let is_replaced = problem.code == Code::TooManyErasures && !is_blank;
    is_replaced.then(|| Draft::new(entry.subject.clone(), body).by(entry.person))
}

/// The erasure that a request asks for.
fn erasure(request: &ReceivedEntry) -> Option<Draft> {
    let Body::ErasureAsked(ErasureAsked { blob }) = Body::of(&request.entry) else {
        return None;
    };
    let subject = request.entry.subject.clone();
    Some(Draft::new(subject, Body::Erased(Erased { blob })).by(request.entry.person))
}

/// Whether one of the drafts says the same.
fn contains(drafts: &[Draft], draft: &Draft) -> bool {
    drafts
        .iter()
        .any(|one| one.subject == draft.subject && one.body == draft.body)
}

/// Whether the device knows a standing request that says the same.
async fn is_asked<T: KvTx>(lookup: &Lookup<T>, draft: &Draft) -> Result<bool, StoreError> {
    let entries = entries_of(lookup, draft.subject.id).await?;
    let standing = erasures_asked(entries.iter()).into_iter();
    Ok(standing
        .map(|asked| Body::ErasureAsked(asked.body))
        .any(|body| body == draft.body))
}

/// Whether a request that the server has sent still stands on this device.
async fn stands<T: KvTx>(lookup: &Lookup<T>, request: &ReceivedEntry) -> Result<bool, StoreError> {
    let mut entries = entries_of(lookup, request.entry.subject.id).await?;
    entries.take(request.clone());
    let standing = erasures_asked(entries.iter());
    Ok(standing.iter().any(|asked| asked.entry == request.entry.id))
}

/// Whether an erasure that says the same is on the device, unless a request stands in its place.
async fn is_written<T: KvTx>(lookup: &Lookup<T>, draft: &Draft) -> Result<bool, StoreError> {
    let says_the_same = |received: &ReceivedEntry| Body::of(&received.entry) == draft.body;
    let subjects = [draft.subject.id.to_string()];
    let rows = lookup.tx.by_index(TAIL, index::ABOUT, &subjects).await?;
    let records = rows.iter().flatten().filter_map(Record::read);
    let (retired, live): (Vec<_>, Vec<_>) = records.partition(|record| record.retired);
    let is_retired = |one: &ReceivedEntry| {
        retired
            .iter()
            .any(|record| record.received.entry.id == one.entry.id)
    };
    let entries = entries_of(lookup, draft.subject.id).await?;
    Ok(live.iter().any(|record| says_the_same(&record.received))
        || entries.iter().any(|one| says_the_same(one) && !is_retired(one)))
}

/// The entries of a subject itself.
async fn entries_of<T: KvTx>(lookup: &Lookup<T>, subject: SubjectId) -> Result<Entries, StoreError> {
    let about = lookup.about(&[subject]).await?;
    let about = about.into_iter().flatten();
    Ok(about
        .filter(|received| received.entry.subject.id == subject)
        .collect())
}
