//! Reading a part of what is stored about some subjects, from memory.

use std::sync::atomic::Ordering;

use server_core::store::{Budget, DatabaseError, LogTx, OutlineTx, Page, StoredEntry, outline_bytes};
use shared::log::{EntryId, SubjectId};

use super::MemoryTx;
use super::log::page;

impl OutlineTx for MemoryTx {
    async fn outline(
        &mut self,
        subjects: &[SubjectId],
        kinds: &[&str],
        budget: Budget,
    ) -> Result<Page<StoredEntry>, DatabaseError> {
        self.outlines.fetch_add(1, Ordering::Relaxed);
        let mut found = self.about(subjects).await?;
        let is_of = |stored: &StoredEntry| kinds.contains(&stored.held.entry.kind.as_str());
        found.retain(|stored| is_of(stored) || !stored.held.entry.over.is_empty());
        for stored in &mut found {
            if !is_of(stored) {
                stored.held.entry.body.clear();
            }
        }
        Ok(page(found.into_iter(), budget, outline_bytes))
    }

    async fn stored_within(
        &mut self,
        ids: &[EntryId],
        budget: Budget,
    ) -> Result<Page<StoredEntry>, DatabaseError> {
        let found = self.stored(ids).await?;
        Ok(page(found.into_iter(), budget, outline_bytes))
    }

    async fn on_subject(
        &mut self,
        first_seq: u64,
        after: u64,
        upto: u64,
        budget: Budget,
    ) -> Result<Page<StoredEntry>, DatabaseError> {
        let later = self.state.entries.range(after.saturating_add(1)..);
        let rows = later
            .take_while(|(seq, _)| **seq <= upto)
            .filter(|(_, stored)| stored.subject_seq == first_seq)
            .map(|(_, stored)| (**stored).clone());
        Ok(page(rows, budget, outline_bytes))
    }
}
