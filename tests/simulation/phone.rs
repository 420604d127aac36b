//! One phone: the store on a database in memory that can die, with a clock that can be wrong.

use std::collections::BTreeSet;

use app_core::store::kv::RowValue;
use app_core::store::memory::{Memory, now};
use app_core::store::scripted::Scripted;
use app_core::store::{Compacted, KvStore, Membership, Record, tables};
use shared::log::body::Role;
use shared::log::{EntryId, UnixMs};

pub(crate) type Store = KvStore<Memory, Scripted>;

pub(crate) struct Phone {
    pub(crate) memory: Memory,
    pub(crate) around: Scripted,
    pub(crate) store: Store,
    /// How far its clock is ahead, in ms.
    pub(crate) skew: i64,
    /// As which it is let into the shop.
    pub(crate) role: Role,
}

/// What is stored on a phone.
#[derive(Debug)]
pub(crate) struct Holdings {
    /// The entries that the phone believes to be on the server.
    pub(crate) confirmed: BTreeSet<EntryId>,
    /// These and all others, but for blank copies that are set aside: nobody can hand over from them what the server has
    /// lost.
    pub(crate) entries: BTreeSet<EntryId>,
    /// The hashes of the photographs whose bytes it has.
    pub(crate) blobs: BTreeSet<String>,
}

impl Phone {
    pub(crate) fn new(seed: u64, time: UnixMs, role: Role) -> Self {
        let (memory, around) = (Memory::default(), Scripted::new(seed, time));
        let store = now(KvStore::open(memory.clone(), around.clone())).expect("a new phone starts");
        Self {
            memory,
            around,
            store,
            skew: 0,
            role,
        }
    }

    /// The clock goes on.
    pub(crate) fn tick(&self, time: UnixMs) {
        self.around.set(UnixMs(time.0 + self.skew));
    }

    /// Starts the app again if the phone has died.
    pub(crate) fn revive(&mut self) {
        self.memory.restart();
        self.store = now(KvStore::open(self.memory.clone(), self.around.clone())).expect("it starts again");
    }

    /// What the server has refused, and erasures that it has refused and in whose place a request stands.
    pub(crate) fn not_taken(&self) -> Vec<Record> {
        let mut records = self.tail();
        records.retain(|record| record.refused.is_some() || record.retired);
        records
    }

    fn tail(&self) -> Vec<Record> {
        let rows = self.memory.rows(tables::TAIL).into_iter();
        let records = rows.map(|row| match row.value {
            RowValue::Text(text) => serde_json::from_str(&text).expect("this app reads what it has written"),
            RowValue::Bytes(_) => panic!("a record is text"),
        });
        records.collect()
    }

    /// Somebody offers again what the server has refused.
    pub(crate) fn offer_again(&self) {
        // It may crash while it writes this.
        drop(now(self.store.retry_refused()));
    }

    /// The app moves the entries of pairs that have left the shop into its archive.
    pub(crate) fn tidy_up(&self) {
        // It may crash at any step.
        while let Ok(Compacted::Partly) = now(self.store.compact()) {}
    }

    pub(crate) fn membership(&self) -> Membership {
        now(self.store.membership()).expect("the phone reads")
    }

    /// What is stored on it.
    pub(crate) fn holdings(&self) -> Holdings {
        let confirmed = self.confirmed();
        let tail = self.tail().into_iter().filter(|record| !record.aside);
        let live = tail.map(|record| record.received.entry.id);
        let entries = confirmed.iter().copied().chain(live).collect();
        Holdings {
            confirmed,
            entries,
            blobs: self.blobs(),
        }
    }

    fn confirmed(&self) -> BTreeSet<EntryId> {
        let mut confirmed = BTreeSet::new();
        loop {
            let page = now(self.store.load_holdings(confirmed.last().copied())).expect("the phone reads");
            if page.is_empty() {
                return confirmed;
            }
            confirmed.extend(page.into_iter().map(|holding| holding.id));
        }
    }

    /// The hashes of the photographs whose bytes it has.
    pub(crate) fn blobs(&self) -> BTreeSet<String> {
        let tables = [tables::BLOBS, tables::THUMBS];
        let rows = tables.into_iter().flat_map(|table| self.memory.rows(table));
        rows.map(|row| row.key).collect()
    }
}
