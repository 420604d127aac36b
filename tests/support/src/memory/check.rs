//! Reading all entries and what is derived from them for `waxend check`. In memory nothing is ever damaged.

use std::ops::RangeInclusive;

use server_core::store::{Budget, CheckTx, CheckedEntry, DatabaseError, DerivedRows, Page};
use shared::log::Subject;

use super::MemoryTx;
use super::log::page;

impl CheckTx for MemoryTx {
    async fn entries_after(&mut self, seq: u64, budget: Budget) -> Result<Page<CheckedEntry>, DatabaseError> {
        let rows = self.state.entries.range(seq + 1..);
        let checked = rows.map(|(seq, stored)| CheckedEntry {
            seq: *seq,
            intact: Some((**stored).clone()),
        });
        Ok(page(checked, budget, |checked| {
            let stored = checked.intact.as_ref();
            stored.map_or(0, |stored| stored.held.entry.body.len())
        }))
    }

    async fn derived(&mut self, seqs: RangeInclusive<u64>) -> Result<DerivedRows, DatabaseError> {
        let state = &self.state;
        let subjects = state
            .subjects
            .iter()
            .map(|(id, (kind, seq))| (Subject::new(kind.clone(), *id), *seq));
        let about = state.about.iter().map(|(id, entry)| (*entry, *id));
        let named = state.named.iter().map(|(hash, entry)| (*entry, *hash));
        let feed = state.feed.values().map(|row| (row.seq, row.entry));
        Ok(DerivedRows {
            subjects: subjects.filter(|(_, seq)| seqs.contains(seq)).collect(),
            about: about.filter(|(entry, _)| seqs.contains(entry)).collect(),
            named: named.filter(|(entry, _)| seqs.contains(entry)).collect(),
            feed: feed.filter(|(seq, _)| seqs.contains(seq)).collect(),
        })
    }
}
