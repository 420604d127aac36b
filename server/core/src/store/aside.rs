//! Operations on entries that are kept aside until a repairer decides about them.

use std::collections::HashMap;
use std::future::Future;

use shared::log::{EntryId, ReceivedEntry, SubjectId};
use shared::sync::messages::KeptAside;

use super::{Budget, DatabaseError, Page};

/// What is noted of an entry that was kept aside.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum AsideRow {
    /// It waits for a repairer.
    Kept(Box<KeptAside>),
    /// A repairer has dropped it. Its content is gone.
    Dropped,
}

/// How much is kept aside, without what was dropped.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct AsideSize {
    /// The number of entries.
    pub entries: u64,
    /// Their [`aside_bytes`].
    pub bytes: u64,
}

/// How many bytes an entry takes where it is kept aside: those of its JSON.
pub fn aside_bytes(held: &ReceivedEntry) -> u64 {
    serde_json::to_vec(held).map_or(0, |json| json.len() as u64)
}

/// Operations on what is kept aside. Of a damaged row it is only counted how large it is, and it is deleted by an erasure.
pub trait AsideTx {
    /// What is noted of those of these entries that were kept aside.
    fn aside(
        &mut self,
        ids: &[EntryId],
    ) -> impl Future<Output = Result<HashMap<EntryId, AsideRow>, DatabaseError>> + Send;

    /// How much is kept aside.
    fn aside_size(&mut self) -> impl Future<Output = Result<AsideSize, DatabaseError>> + Send;

    /// What is kept aside, in the order in which it came.
    fn kept_aside(
        &mut self,
        budget: Budget,
    ) -> impl Future<Output = Result<Page<KeptAside>, DatabaseError>> + Send;

    /// What is kept aside about this subject, in the order in which it came.
    fn kept_aside_about(
        &mut self,
        subject: SubjectId,
    ) -> impl Future<Output = Result<Vec<KeptAside>, DatabaseError>> + Send;

    /// Keeps entries aside of which nothing is noted yet.
    fn keep_aside(&mut self, kept: &[KeptAside]) -> impl Future<Output = Result<(), DatabaseError>> + Send;

    /// Deletes the content of those of these entries that are kept aside, and notes that they were dropped.
    fn drop_aside(&mut self, ids: &[EntryId]) -> impl Future<Output = Result<(), DatabaseError>> + Send;

    /// Deletes all that is noted of these entries.
    fn forget_aside(&mut self, ids: &[EntryId]) -> impl Future<Output = Result<(), DatabaseError>> + Send;
}
