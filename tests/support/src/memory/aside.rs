//! Entries that are kept aside, in memory.

use std::collections::HashMap;

use server_core::store::{AsideRow, AsideSize, AsideTx, Budget, DatabaseError, Page, aside_bytes};
use shared::log::{EntryId, SubjectId};
use shared::sync::messages::KeptAside;

use super::MemoryTx;
use super::log::page;

impl MemoryTx {
    /// What was not dropped, in the order in which it came.
    fn kept(&self) -> impl Iterator<Item = &KeptAside> {
        self.state.aside.values().filter_map(|(_, kept)| kept.as_ref())
    }
}

impl AsideTx for MemoryTx {
    async fn aside(&mut self, ids: &[EntryId]) -> Result<HashMap<EntryId, AsideRow>, DatabaseError> {
        let rows = self.state.aside.values().filter(|(id, _)| ids.contains(id));
        let noted = rows.map(|(id, kept)| match kept {
            Some(kept) => (*id, AsideRow::Kept(Box::new(kept.clone()))),
            None => (*id, AsideRow::Dropped),
        });
        Ok(noted.collect())
    }

    async fn aside_size(&mut self) -> Result<AsideSize, DatabaseError> {
        Ok(AsideSize {
            entries: self.kept().count() as u64,
            bytes: self.kept().map(|kept| aside_bytes(&kept.entry)).sum(),
        })
    }

    async fn kept_aside(&mut self, budget: Budget) -> Result<Page<KeptAside>, DatabaseError> {
        let bytes = |kept: &KeptAside| usize::try_from(aside_bytes(&kept.entry)).unwrap_or_default();
        Ok(page(self.kept().cloned(), budget, bytes))
    }

    async fn kept_aside_about(&mut self, subject: SubjectId) -> Result<Vec<KeptAside>, DatabaseError> {
        let about = self.kept().filter(|kept| kept.entry.entry.subject.id == subject);
        Ok(about.cloned().collect())
    }

    async fn keep_aside(&mut self, kept: &[KeptAside]) -> Result<(), DatabaseError> {
        let aside = &mut self.change().aside;
        for one in kept {
            let id = one.entry.entry.id;
            assert!(aside.values().all(|(other, _)| *other != id), "kept aside twice");
            let next = aside.last_key_value().map_or(1, |(last, _)| last + 1);
            aside.insert(next, (id, Some(one.clone())));
        }
        Ok(())
    }

    async fn drop_aside(&mut self, ids: &[EntryId]) -> Result<(), DatabaseError> {
        for (id, kept) in self.change().aside.values_mut() {
            if ids.contains(id) {
                *kept = None;
            }
        }
        Ok(())
    }

    async fn forget_aside(&mut self, ids: &[EntryId]) -> Result<(), DatabaseError> {
        self.change().aside.retain(|_, (id, _)| !ids.contains(id));
        Ok(())
    }
}
