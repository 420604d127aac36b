//! Operations for the rules on what a device may write and on how much a shop erases in a day.

use std::collections::HashMap;
use std::future::Future;

use shared::log::{Body, Entry, EntryId, Erasures, ReceivedEntry, Subject, SubjectId, UnixMs};

use super::DatabaseError;

/// What is needed of a stored entry to decide whether another one may replace or retract it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NamedEntry {
    /// What the entry is about.
    pub subject: Subject,
    /// The entry's kind.
    pub kind: String,
    /// The entry that it retracts, if it is a retraction that can be read.
    pub retracts: Option<EntryId>,
}

impl NamedEntry {
    /// What is needed of this entry.
    pub fn of(entry: &Entry) -> Self {
        let retracts = match Body::of(entry) {
            Body::Retracted(retraction) => Some(retraction.entry),
            _ => None,
        };
        Self {
            subject: entry.subject.clone(),
            kind: entry.kind.clone(),
            retracts,
        }
    }
}

/// A stored request for an erasure.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ErasureRequest {
    /// The entry that asks.
    pub id: EntryId,
    /// What the entry is about: what is to be erased, unless `blob` is.
    pub subject: Subject,
    /// The SHA-256 of the blob to be destroyed, in lower-case hex.
    pub blob: Option<String>,
}

impl ErasureRequest {
    /// The request that an entry is, if it is one that this version can read.
    pub fn of(entry: &Entry) -> Option<Self> {
        match Body::of(entry) {
            Body::ErasureAsked(asked) => Some(Self {
                id: entry.id,
                subject: entry.subject.clone(),
                blob: asked.blob,
            }),
            _ => None,
        }
    }

    /// Whether what is to be erased is among these.
    pub fn is_in(&self, erasures: &Erasures) -> bool {
        match &self.blob {
            Some(hash) => erasures.covers_blob(hash),
            None => erasures.subjects.contains(&self.subject.id),
        }
    }
}

/// An erasure that counts for the number that a shop takes in a day.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct CountedErasure {
    /// When it was taken.
    pub at: UnixMs,
    /// What it destroyed.
    pub what: ErasedThing,
}

/// What an erasure destroys.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ErasedThing {
    /// The content of a subject.
    Subject,
    /// A photograph or voice note.
    Blob,
    /// What one entry says of a person.
    Mention,
}

/// Operations for the rights of devices.
pub trait RightsTx {
    /// What is needed of those of these entries that are stored; without their bodies.
    fn named_entries(
        &mut self,
        ids: &[EntryId],
    ) -> impl Future<Output = Result<HashMap<EntryId, NamedEntry>, DatabaseError>> + Send;

    /// Every retraction about these subjects, by the number it got when it was stored.
    fn retractions(
        &mut self,
        subjects: &[SubjectId],
    ) -> impl Future<Output = Result<Vec<ReceivedEntry>, DatabaseError>> + Send;

    /// Every request for an erasure that arrived up to this time and was not blanked, the oldest first. One of an earlier
    /// version of the server, which did not note when it arrived, counts as arrived when it was received.
    fn erasure_requests(
        &mut self,
        until: UnixMs,
    ) -> impl Future<Output = Result<Vec<ErasureRequest>, DatabaseError>> + Send;

    /// The erasures that count, in no particular order.
    fn counted_erasures(&mut self)
    -> impl Future<Output = Result<Vec<CountedErasure>, DatabaseError>> + Send;

    /// Replaces the erasures that count.
    fn set_counted_erasures(
        &mut self,
        counted: &[CountedErasure],
    ) -> impl Future<Output = Result<(), DatabaseError>> + Send;
}
