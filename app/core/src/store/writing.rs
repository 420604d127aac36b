//! One writing transaction over the whole store, with the singletons it reads and changes.

use super::error::StoreError;
use super::kv::{Kv, KvTx, Mode};
use super::lookup::Lookup;
use super::meta::{FORMAT, Meta};
use super::search::{self, SearchChange};
use super::tables::{ALL, META};

/// An open transaction. If it is dropped without [`Writing::commit`], none of it is written.
pub(super) struct Writing<T> {
    /// Look-ups inside the transaction; its `tx` also writes.
    pub(super) lookup: Lookup<T>,
    /// The singletons; those that have changed are written on commit.
    pub(super) meta: Meta,
    before: Meta,
    /// The changes to the search lines in this transaction.
    search: Vec<SearchChange>,
}

impl<T: KvTx> Writing<T> {
    /// Begins a transaction over every table.
    ///
    /// It always covers all of them, so that two writing transactions never run at once, and running numbers and stamps
    /// are allotted only once, whichever tab asks.
    pub(super) async fn begin<K: Kv<Tx = T>>(kv: &K, mode: Mode, app: u32) -> Result<Self, StoreError> {
        let tx = kv.begin(ALL, mode).await?;
        let rows = tx.get_many(META, &Meta::keys()).await?;
        let missing = || StoreError::Unreadable {
            key: "device".to_owned(),
        };
        let mut meta = Meta::read(&rows)?.ok_or_else(missing)?;
        if meta.format.oldest_app > app {
            return Err(StoreError::NewerApp);
        }
        let before = meta.clone();
        meta.format.version = meta.format.version.max(FORMAT);
        Ok(Self {
            lookup: Lookup::new(tx),
            meta,
            before,
            search: Vec::new(),
        })
    }

    /// The transaction itself.
    pub(super) fn tx(&self) -> &T {
        &self.lookup.tx
    }

    /// A new place for a search line.
    pub(super) fn new_slot(&mut self) -> u64 {
        self.meta.state.slots += 1;
        self.meta.state.slots - 1
    }

    /// Writes changed search lines; the edition changes with them.
    pub(super) async fn change_search(&mut self, changes: Vec<SearchChange>) -> Result<(), StoreError> {
        if changes.is_empty() {
            return Ok(());
        }
        search::write(self.tx(), &changes).await?;
        self.meta.state.search_edition += 1;
        self.search.extend(changes);
        Ok(())
    }

    /// Writes the changed singletons and commits. Returns the changes of the search lines.
    pub(super) async fn commit(self) -> Result<Committed, StoreError> {
        for row in self.meta.changed_rows(Some(&self.before)) {
            self.lookup.tx.put(META, row);
        }
        self.lookup.tx.commit().await?;
        Ok(Committed {
            search: self.search,
            edition_before: self.before.state.search_edition,
            meta: self.meta,
        })
    }
}

/// The results of a committed transaction.
pub(super) struct Committed {
    /// The singletons as they are now.
    pub(super) meta: Meta,
    /// Changes of search lines.
    pub(super) search: Vec<SearchChange>,
    /// The search edition before these changes.
    pub(super) edition_before: u64,
}
