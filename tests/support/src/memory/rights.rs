//! What the rules on the rights of devices ask of the database in memory.

use std::collections::HashMap;

use server_core::store::{CountedErasure, DatabaseError, ErasureRequest, NamedEntry, RightsTx, StoredEntry};
use shared::log::{EntryId, ReceivedEntry, SubjectId, UnixMs};

use super::MemoryTx;

impl MemoryTx {
    /// Every entry of this kind, by the number it got when it was stored.
    fn of_kind(&self, kind: &str) -> impl Iterator<Item = &StoredEntry> {
        let entries = self.state.entries.values().map(|stored| &**stored);
        entries.filter(move |stored| stored.held.entry.kind == kind)
    }
}

impl RightsTx for MemoryTx {
    async fn named_entries(
        &mut self,
        ids: &[EntryId],
    ) -> Result<HashMap<EntryId, NamedEntry>, DatabaseError> {
        let seqs = ids.iter().filter_map(|id| self.state.ids.get(id).copied());
        let stored = self.state.at(seqs);
        let named = |stored: &StoredEntry| (stored.held.entry.id, NamedEntry::of(&stored.held.entry));
        Ok(stored.iter().map(named).collect())
    }

    async fn retractions(&mut self, subjects: &[SubjectId]) -> Result<Vec<ReceivedEntry>, DatabaseError> {
        let own = self
            .of_kind("retracted")
            .filter(|stored| subjects.contains(&stored.subject().id));
        Ok(own.map(|stored| stored.held.clone()).collect())
    }

    async fn erasure_requests(&mut self, until: UnixMs) -> Result<Vec<ErasureRequest>, DatabaseError> {
        let arrived = |stored: &StoredEntry| self.state.pushed_by[&stored.seq].at;
        let mut requests: Vec<_> = self
            .of_kind("erasure_asked")
            .filter(|stored| arrived(stored) <= until)
            .collect();
        requests.sort_by_key(|stored| (arrived(stored), stored.seq));
        let request = |stored: &StoredEntry| ErasureRequest::of(&stored.held.entry);
        Ok(requests.into_iter().filter_map(request).collect())
    }

    async fn counted_erasures(&mut self) -> Result<Vec<CountedErasure>, DatabaseError> {
        Ok(self.state.counted.clone())
    }

    async fn set_counted_erasures(&mut self, counted: &[CountedErasure]) -> Result<(), DatabaseError> {
        self.change().counted = counted.to_vec();
        Ok(())
    }
}
