//! Operations with which `waxend check` reads all that is stored, also where it is damaged.

use std::collections::BTreeSet;
use std::future::Future;
use std::ops::RangeInclusive;

use shared::log::{Subject, SubjectId};

use super::{BlobHash, Budget, DatabaseError, Page, StoredEntry};

/// An entry as the check reads it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CheckedEntry {
    /// The number it got when it was stored.
    pub seq: u64,
    /// The entry; `None` if it cannot be read, or is not as it was stored.
    pub intact: Option<StoredEntry>,
}

/// The rows that other tables have for a range of numbers.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct DerivedRows {
    /// Subjects whose first entry has one of these numbers, with that number.
    pub subjects: Vec<(Subject, u64)>,
    /// Entries with these numbers, and a subject that they concern.
    pub about: BTreeSet<(u64, SubjectId)>,
    /// Entries with these numbers, and a blob that they name.
    pub named: BTreeSet<(u64, BlobHash)>,
    /// These numbers in the feed, each with the number that its entry got when it was stored.
    pub feed: BTreeSet<(u64, u64)>,
}

/// Operations of `waxend check`.
pub trait CheckTx {
    /// The entries that were stored after this number, in order, also damaged ones.
    fn entries_after(
        &mut self,
        seq: u64,
        budget: Budget,
    ) -> impl Future<Output = Result<Page<CheckedEntry>, DatabaseError>> + Send;

    /// The rows of the other tables for these numbers, whether or not there are entries with these numbers.
    fn derived(
        &mut self,
        seqs: RangeInclusive<u64>,
    ) -> impl Future<Output = Result<DerivedRows, DatabaseError>> + Send;
}
