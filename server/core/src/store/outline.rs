//! Reading entries without more of them in memory than is needed.

use std::future::Future;

use shared::log::{EntryId, SubjectId};

use super::{Budget, DatabaseError, Page, StoredEntry};

/// Operations that read a part of what is stored about some subjects.
pub trait OutlineTx {
    /// Of the entries that concern these subjects: those of these kinds; and, blank if they are of another kind, those that
    /// replace other entries. Each once, by the number it got when it was stored. If they are more than the budget, it is
    /// not said which ones are missing.
    fn outline(
        &mut self,
        subjects: &[SubjectId],
        kinds: &[&str],
        budget: Budget,
    ) -> impl Future<Output = Result<Page<StoredEntry>, DatabaseError>> + Send;

    /// Those of these entries that are stored, in any order, as far as the budget allows.
    fn stored_within(
        &mut self,
        ids: &[EntryId],
        budget: Budget,
    ) -> impl Future<Output = Result<Page<StoredEntry>, DatabaseError>> + Send;

    /// The entries about the subject that was first seen at a number: those that were stored after the number `after` and
    /// up to the number `upto`, in that order.
    fn on_subject(
        &mut self,
        first_seq: u64,
        after: u64,
        upto: u64,
        budget: Budget,
    ) -> impl Future<Output = Result<Page<StoredEntry>, DatabaseError>> + Send;
}

impl Budget {
    /// What is left of it after these entries.
    pub fn after(self, read: &[StoredEntry]) -> Self {
        let bytes: usize = read.iter().map(outline_bytes).sum();
        Self {
            rows: self.rows.saturating_sub(read.len()),
            bytes: self.bytes.saturating_sub(bytes),
        }
    }
}

/// How much memory an entry counts for in a budget, in bytes: its content and the ids of the entries that it replaces.
pub fn outline_bytes(stored: &StoredEntry) -> usize {
    stored.held.entry.body.len() + 16 * stored.held.entry.over.len()
}
