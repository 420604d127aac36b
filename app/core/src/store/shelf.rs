//! The materials of the shelf, and the stored rows from which it follows what jobs used of them.

use std::collections::BTreeSet;

use shared::log::body::SHELF;
use shared::log::fold::Entries;
use shared::log::{SubjectId, SubjectKind, UnixMs, inserted};
use shared::shelf::Materials;

use super::KvStore;
use super::error::StoreError;
use super::kv::Kv;
use super::pair_logs::months;
use super::surroundings::Surroundings;

impl<K: Kv, S: Surroundings> KvStore<K, S> {
    /// Every material of the shop: with one look-up the first entries of all, with another one everything about them.
    ///
    /// # Errors
    /// When the database fails.
    pub async fn materials(&self) -> Result<Materials, StoreError> {
        let lookup = self.lookup().await?;
        let first = lookup.about(&[SHELF]).await?;
        let subjects = first.iter().flatten().map(|received| &received.entry.subject);
        let of_shelf = subjects.filter(|subject| subject.kind == SubjectKind::Material);
        let ids: BTreeSet<SubjectId> = inserted(of_shelf.map(|subject| subject.id));
        let ids: Vec<_> = ids.into_iter().collect();
        let mut entries = Entries::default();
        for received in lookup.about(&ids).await?.into_iter().flatten() {
            entries.take(received);
        }
        Ok(Materials::of(&entries))
    }

    /// The stored rows of all pairs on which work was done since then, for
    /// [`uses_in_rows`](shared::shelf::uses_in_rows). It is enough to ask for them since the shop began to keep
    /// account of its first material.
    ///
    /// It reads only the pairs of those months, but all of these: for a screen, not at every start.
    ///
    /// # Errors
    /// When the database fails.
    pub async fn used_since(&self, since: UnixMs) -> Result<Vec<String>, StoreError> {
        self.books(&months(since, self.around.wall()), usize::MAX).await
    }
}
