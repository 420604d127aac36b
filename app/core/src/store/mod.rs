//! The store on the phone: everything the device knows, complete without a network.
//!
//! The rules are implemented here, over the small database trait of [`kv`], so that the same code runs on IndexedDB in
//! the browser and in memory in tests and simulations. The tables are described in [`tables`]. Entries come in through
//! [`save`] (made on this device) and `sync` (from a server), both through `ingest`.
//!
//! - One method is one transaction, and no transaction waits for anything but its own requests.
//! - Everything derived (summaries, search lines, counters) can be made again from the entries.
//! - Rows and fields that this version does not know are left as they are.
//!
#![doc = include_str!("README.md")]

pub mod backup;
pub mod blobs;
mod block;
mod change;
#[cfg(any(test, feature = "contract"))]
pub mod contract;
mod customers;
mod erasing;
pub mod error;
mod found_customers;
mod found_sales;
#[cfg(feature = "browser")]
pub mod idb;
mod ingest;
pub mod kv;
mod lookup;
mod maintenance;
#[cfg(not(target_arch = "wasm32"))]
pub mod memory;
mod mentions;
pub mod meta;
mod pair_logs;
mod range_scan;
mod reading;
pub mod record;
mod sales;
#[cfg(any(test, feature = "contract"))]
pub mod sample;
pub mod save;
#[cfg(not(target_arch = "wasm32"))]
pub mod scripted;
pub mod search;
mod shelf;
mod summaries;
pub mod surroundings;
mod sync;
pub mod tables;
mod taking_out;
mod writing;

use std::cell::RefCell;
use std::rc::Rc;

use shared::log::DeviceId;
use shared::log::fold::FOLD_VERSION;

pub use backup::{Restored, Scope};
pub use blobs::{BlobPlace, NewBlob, Outgoing, Size};
pub use error::{BackupError, StoreError};
pub use found_customers::CustomerAlone;
pub use found_sales::SaleAlone;
pub use maintenance::Compacted;
pub use meta::{Membership, StoreCounts};
pub use record::Record;
pub use save::Saved;
pub use surroundings::{Sha256Digest, Surroundings};
pub use sync::Access;
pub use taking_out::EntriesCursor;

use kv::{Kv, KvTx, Mode};
use meta::{DeviceIdentity, FORMAT, Format, Meta, OLDEST_APP, Stale, StoreState};
use search::SearchIndex;
use tables::META;
use writing::Writing;

/// The beginning of the keys of unfinished input.
const DRAFT: &str = "draft/";

fn draft_key(name: &str) -> String {
    format!("{DRAFT}{name}")
}

/// The store over any database. Clones share all state.
#[derive(Debug, Clone)]
pub struct KvStore<K, S> {
    kv: K,
    around: S,
    /// The layout version that this app writes; another one only in tests of older and newer apps.
    app: u32,
    device: DeviceId,
    cache: Rc<RefCell<Cache>>,
}

/// What may be cached between transactions, because it is known when it is out of date.
#[derive(Debug, Default)]
struct Cache {
    search: Option<SearchIndex>,
    holdings: Option<sync::Holdings>,
    /// The key of the tail up to which compaction has come.
    tidied: String,
}

impl<K: Kv, S: Surroundings> KvStore<K, S> {
    /// Opens the store; on the very first start the device gets its identity.
    ///
    /// A database to which only a newer app may write is opened too, to be read and backed up.
    ///
    /// # Errors
    /// If the database fails, or a singleton cannot be read.
    pub async fn open(kv: K, around: S) -> Result<Self, StoreError> {
        Self::open_as(kv, around, FORMAT).await
    }

    /// Opens the store as an app of another layout version would.
    ///
    /// # Errors
    /// As [`KvStore::open`].
    pub async fn open_as(kv: K, around: S, app: u32) -> Result<Self, StoreError> {
        let tx = kv.begin(&[META], Mode::Write).await?;
        let rows = tx.get_many(META, &Meta::keys()).await?;
        let before = Meta::read(&rows)?;
        let mut meta = before.clone().unwrap_or_else(|| first_start(&around));
        let may_write = meta.format.oldest_app <= app;
        if may_write {
            meta.format.oldest_app = meta.format.oldest_app.max(OLDEST_APP);
            note_fold_version(&mut meta);
            for row in meta.changed_rows(before.as_ref()) {
                tx.put(META, row);
            }
            tx.commit().await?;
        }
        Ok(Self {
            kv,
            around,
            app,
            device: meta.device.id,
            cache: Rc::default(),
        })
    }

    /// The device's own id.
    pub fn device(&self) -> DeviceId {
        self.device
    }

    /// The clock and the source of random numbers that the store uses.
    pub fn surroundings(&self) -> &S {
        &self.around
    }

    /// Folds all summaries afresh that a large batch or an update of the app has left out of date. Called at start, in
    /// the background; safe to call and to stop at any time.
    ///
    /// # Errors
    /// As for every write: the database, or a newer app.
    pub async fn rebuild_summaries(&self) -> Result<(), StoreError> {
        loop {
            let mut writing = self.write(Mode::Write).await?;
            if writing.meta.stale.is_empty() {
                return Ok(());
            }
            summaries::rebuild(&mut writing).await?;
            if self.commit(writing).await?.stale.is_empty() {
                return Ok(());
            }
        }
    }

    async fn write(&self, mode: Mode) -> Result<Writing<K::Tx>, StoreError> {
        Writing::begin(&self.kv, mode, self.app).await
    }

    /// Commits, then folds the summaries that a large batch has left out of date; a failure of that does not affect the
    /// committed transaction.
    async fn finish(&self, writing: Writing<K::Tx>) -> Result<(), StoreError> {
        let meta = self.commit(writing).await?;
        if !meta.stale.is_empty() {
            drop(self.rebuild_summaries().await);
        }
        Ok(())
    }

    async fn commit(&self, writing: Writing<K::Tx>) -> Result<Meta, StoreError> {
        let committed = writing.commit().await?;
        let mut cache = self.cache.borrow_mut();
        if let Some(index) = &mut cache.search {
            let edition = committed.meta.state.search_edition;
            if !index.follow(&committed.search, committed.edition_before, edition) {
                cache.search = None;
            }
        }
        Ok(committed.meta)
    }

    async fn meta(&self) -> Result<Meta, StoreError> {
        let tx = self.kv.begin(&[META], Mode::Read).await?;
        self.meta_in(&tx).await
    }

    async fn meta_in(&self, tx: &K::Tx) -> Result<Meta, StoreError> {
        let rows = tx.get_many(META, &Meta::keys()).await?;
        Meta::read(&rows)?.ok_or_else(|| StoreError::Unreadable {
            key: "device".to_owned(),
        })
    }
}

/// The singletons of a device that starts for the first time.
fn first_start<S: Surroundings>(around: &S) -> Meta {
    Meta {
        format: Format {
            version: FORMAT,
            oldest_app: OLDEST_APP,
            more: meta::More::new(),
        },
        device: DeviceIdentity {
            id: DeviceId(around.uuid_v4()),
            name: String::new(),
            made: around.wall(),
            own_shop: around.new_subject(),
            tag_mark: None,
            more: meta::More::new(),
        },
        membership: Membership::default(),
        progress: shared::sync::machine::Progress::default(),
        state: StoreState {
            fold_version: FOLD_VERSION,
            ..StoreState::default()
        },
        erasures: shared::log::Erasures::default(),
        stale: Stale::default(),
    }
}

/// Marks all summaries as out of date if this app folds differently from the last one. An older app notes its version
/// too, so that the newer one folds them again.
fn note_fold_version(meta: &mut Meta) {
    if meta.state.fold_version < FOLD_VERSION {
        meta.stale.walk.get_or_insert_with(String::new);
    }
    meta.state.fold_version = meta.state.fold_version.min(FOLD_VERSION);
}
