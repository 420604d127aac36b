//! Entries and their numbering in memory.

use std::collections::{BTreeSet, HashMap};
use std::sync::Arc;

use server_core::store::{
    Arrival, Blank, BlobHash, Budget, DatabaseError, LogTx, NewEntry, Numbered, Numbering, Page, PushedBy,
    StoredEntry,
};
use shared::log::{EntryId, ReceivedEntry, SubjectId, SubjectKind, UnixMs, is_erasure};
use shared::sync::HistoryMark;
use uuid::Uuid;

use super::MemoryTx;
use super::state::State;

impl LogTx for MemoryTx {
    async fn counter(&mut self) -> Result<Numbering, DatabaseError> {
        Ok(self.state.counter.clone())
    }

    async fn set_counter(&mut self, counter: &Numbering) -> Result<(), DatabaseError> {
        self.change().counter = counter.clone();
        Ok(())
    }

    async fn stored(&mut self, ids: &[EntryId]) -> Result<Vec<StoredEntry>, DatabaseError> {
        Ok(self
            .state
            .at(ids.iter().filter_map(|id| self.state.ids.get(id).copied())))
    }

    async fn arrivals(&mut self, ids: &[EntryId]) -> Result<HashMap<EntryId, Arrival>, DatabaseError> {
        let stored = self.stored(ids).await?;
        let arrival = |StoredEntry { held, .. }: StoredEntry| {
            let arrival = Arrival {
                received: held.received?,
                blank: held.entry.is_blank().then_some(Blank {
                    subject: held.entry.subject,
                    kind: held.entry.kind,
                }),
            };
            Some((held.entry.id, arrival))
        };
        Ok(stored.into_iter().filter_map(arrival).collect())
    }

    async fn first_seqs(&mut self, subjects: &[SubjectId]) -> Result<HashMap<SubjectId, u64>, DatabaseError> {
        let known = |id: &SubjectId| self.state.subjects.get(id).map(|(_, seq)| (*id, *seq));
        Ok(subjects.iter().filter_map(known).collect())
    }

    async fn insert(&mut self, entries: &[NewEntry], pushed_by: PushedBy) -> Result<(), DatabaseError> {
        let state = self.change();
        for NewEntry { stored, about, named } in entries {
            let (seq, subject) = (stored.seq, stored.subject());
            assert!(
                state.ids.insert(stored.held.entry.id, seq).is_none(),
                "an id stored twice"
            );
            assert!(stored.held.received.is_some(), "an entry stored without received");
            if seq == stored.subject_seq {
                state.subjects.insert(subject.id, (subject.kind.clone(), seq));
            }
            link(state, seq, about, named);
            state.entries.insert(seq, Arc::new(stored.clone()));
            state.pushed_by.insert(seq, pushed_by);
        }
        Ok(())
    }

    async fn lower(&mut self, seq: u64, received: UnixMs) -> Result<(), DatabaseError> {
        if let Some(stored) = self.change().entries.get_mut(&seq) {
            Arc::make_mut(stored).held.received = Some(received);
        }
        Ok(())
    }

    async fn blank(&mut self, stored: &StoredEntry) -> Result<(), DatabaseError> {
        let (seq, own) = (stored.seq, stored.subject().id);
        let state = self.change();
        if let Some(stored) = state.entries.get_mut(&seq) {
            Arc::make_mut(stored).held.entry.body.clear();
        }
        state.named.retain(|(_, entry)| *entry != seq);
        state
            .about
            .retain(|(subject, entry)| *entry != seq || *subject == own);
        Ok(())
    }

    async fn fill(&mut self, NewEntry { stored, about, named }: &NewEntry) -> Result<(), DatabaseError> {
        let state = self.change();
        link(state, stored.seq, about, named);
        if let Some(blank) = state.entries.get_mut(&stored.seq) {
            Arc::make_mut(blank)
                .held
                .entry
                .body
                .clone_from(&stored.held.entry.body);
        }
        Ok(())
    }

    async fn number(&mut self, rows: &[Numbered]) -> Result<(), DatabaseError> {
        let state = self.change();
        for row in rows {
            assert!(state.feed.insert(row.seq, *row).is_none(), "a number given twice");
        }
        Ok(())
    }

    async fn mark_at(&mut self, seq: u64) -> Result<Option<Uuid>, DatabaseError> {
        Ok(self.state.feed.get(&seq).map(|numbered| numbered.mark))
    }

    async fn feed_after(
        &mut self,
        seq: u64,
        budget: Budget,
    ) -> Result<Page<(Numbered, ReceivedEntry)>, DatabaseError> {
        let rows = self.state.feed.range(seq + 1..).filter_map(|(_, numbered)| {
            Some((*numbered, self.state.entries.get(&numbered.entry)?.held.clone()))
        });
        Ok(page(rows, budget, |(_, held)| held.entry.body.len()))
    }

    async fn history(
        &mut self,
        start: u64,
        from: Option<HistoryMark>,
        budget: Budget,
    ) -> Result<Page<StoredEntry>, DatabaseError> {
        let key = |stored: &StoredEntry| (std::cmp::Reverse(stored.subject_seq), stored.seq);
        let mut rows = self
            .state
            .at(self.state.entries.range(..=start).map(|(seq, _)| *seq));
        rows.sort_by_key(key);
        let after = from.map(|mark| (std::cmp::Reverse(mark.subject_seq), mark.seq));
        let rows = rows
            .into_iter()
            .filter(|stored| after.is_none_or(|after| key(stored) > after));
        Ok(page(rows, budget, |stored| stored.held.entry.body.len()))
    }

    async fn on(&mut self, subjects: &[SubjectId]) -> Result<Vec<StoredEntry>, DatabaseError> {
        let mut found = self.about(subjects).await?;
        found.retain(|stored| subjects.contains(&stored.subject().id));
        Ok(found)
    }

    async fn about(&mut self, subjects: &[SubjectId]) -> Result<Vec<StoredEntry>, DatabaseError> {
        let of = |id: &SubjectId| {
            self.state
                .about
                .range((*id, 0)..=(*id, u64::MAX))
                .map(|(_, seq)| *seq)
        };
        Ok(self.state.at(subjects.iter().flat_map(of)))
    }

    async fn naming(&mut self, blob: &BlobHash) -> Result<Vec<StoredEntry>, DatabaseError> {
        Ok(self.state.at(self
            .state
            .named
            .range((*blob, 0)..=(*blob, u64::MAX))
            .map(|(_, seq)| *seq)))
    }

    async fn awaited(&mut self, most: usize) -> Result<Vec<BlobHash>, DatabaseError> {
        Ok(self.state.awaited.iter().take(most).copied().collect())
    }

    async fn all_named(&mut self) -> Result<Vec<BlobHash>, DatabaseError> {
        let hashes: BTreeSet<_> = self.state.named.iter().map(|(hash, _)| *hash).collect();
        Ok(hashes.into_iter().collect())
    }

    async fn jobs_perhaps_here(&mut self) -> Result<Vec<SubjectId>, DatabaseError> {
        let mut kinds: HashMap<SubjectId, BTreeSet<&str>> = HashMap::new();
        for stored in self
            .state
            .entries
            .values()
            .filter(|s| s.subject().kind == SubjectKind::Job)
        {
            kinds
                .entry(stored.subject().id)
                .or_default()
                .insert(&stored.held.entry.kind);
        }
        let perhaps = |kinds: &BTreeSet<&str>| {
            kinds.contains("opened") && (!kinds.contains("handed_over") || kinds.contains("retracted"))
        };
        Ok(kinds
            .into_iter()
            .filter(|(_, kinds)| perhaps(kinds))
            .map(|(id, _)| id)
            .collect())
    }

    async fn shop_subjects(&mut self) -> Result<Vec<SubjectId>, DatabaseError> {
        let shops = self
            .state
            .subjects
            .iter()
            .filter(|(_, (kind, _))| *kind == SubjectKind::Shop);
        Ok(shops.map(|(id, _)| *id).collect())
    }

    async fn erasures(&mut self) -> Result<Vec<ReceivedEntry>, DatabaseError> {
        let erased = self
            .state
            .entries
            .values()
            .filter(|stored| is_erasure(&stored.held.entry.kind));
        Ok(erased.map(|stored| stored.held.clone()).collect())
    }

    async fn blank_entries(&mut self) -> Result<Vec<ReceivedEntry>, DatabaseError> {
        let blank = self
            .state
            .entries
            .values()
            .filter(|stored| stored.held.entry.is_blank());
        Ok(blank.map(|stored| stored.held.clone()).collect())
    }

    async fn linked_pairs(
        &mut self,
        secrets: &[String],
    ) -> Result<HashMap<String, SubjectId>, DatabaseError> {
        let link = |secret: &String| Some((secret.clone(), *self.state.links.get(secret)?));
        Ok(secrets.iter().filter_map(link).collect())
    }

    async fn link(&mut self, secret: &str, pair: SubjectId) -> Result<(), DatabaseError> {
        self.change().links.entry(secret.to_owned()).or_insert(pair);
        Ok(())
    }

    async fn entry_count(&mut self) -> Result<u64, DatabaseError> {
        Ok(self.state.entries.len() as u64)
    }

    async fn feed_count(&mut self) -> Result<u64, DatabaseError> {
        Ok(self.state.feed.len() as u64)
    }
}

/// Stores which subjects an entry concerns and which blobs it names.
fn link(state: &mut State, seq: u64, about: &[SubjectId], named: &[BlobHash]) {
    state.about.extend(about.iter().map(|id| (*id, seq)));
    let lacking = named.iter().filter(|hash| !state.blobs.contains_key(hash));
    state.awaited.extend(lacking.copied());
    state.named.extend(named.iter().map(|hash| (*hash, seq)));
}

pub(super) fn page<T>(rows: impl Iterator<Item = T>, budget: Budget, bytes: impl Fn(&T) -> usize) -> Page<T> {
    let mut left = budget;
    let mut page = Page {
        rows: Vec::new(),
        more: false,
    };
    for row in rows {
        if left.rows == 0 || left.bytes == 0 {
            page.more = true;
            break;
        }
        left.rows -= 1;
        left.bytes = left.bytes.saturating_sub(bytes(&row));
        page.rows.push(row);
    }
    page
}
