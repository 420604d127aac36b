//! A shop whose database, photographs and ledger are in memory.

mod aside;
mod check;
mod keep;
mod log;
mod outline;
mod rest;
mod rights;
mod state;

use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::{Arc, Mutex, PoisonError};

use server_core::shop::Shop;
use server_core::store::{DatabaseError, Numbering, Store, StoreTx, TxMode};
use shared::log::UnixMs;
use tokio::sync::OwnedMutexGuard;
use uuid::Uuid;

pub use keep::{MemoryLedger, MemoryPhotos};
use state::State;

use crate::world::Told;

/// A shop on a database and a photo folder in memory.
pub type MemoryShop = Shop<MemoryStore, MemoryPhotos>;

/// A database in memory. Clones share it.
#[derive(Debug, Clone)]
pub struct MemoryStore {
    committed: Arc<Mutex<Arc<State>>>,
    writer: Arc<tokio::sync::Mutex<()>>,
    outlines: Arc<AtomicUsize>,
}

/// A copy of a former state of the database.
#[derive(Debug, Clone)]
pub struct Snapshot(Arc<State>);

impl Snapshot {
    /// The last number given to an entry.
    pub fn seq(&self) -> u64 {
        self.0.counter.seq
    }
}

/// A transaction: a private copy that replaces the database on commit.
#[derive(Debug)]
pub struct MemoryTx {
    state: Arc<State>,
    write: Option<(MemoryStore, OwnedMutexGuard<()>)>,
    outlines: Arc<AtomicUsize>,
}

impl MemoryStore {
    pub fn new(shop: Uuid, epoch: Uuid) -> Self {
        let counter = Numbering {
            shop,
            epoch,
            seq: 0,
            last_received: UnixMs(0),
            letters_given: 0,
        };
        Self {
            committed: Arc::new(Mutex::new(Arc::new(State::new(counter)))),
            writer: Arc::default(),
            outlines: Arc::default(),
        }
    }

    /// How many outlines of entries have been read so far: one for each look-up.
    pub fn outlines_read(&self) -> usize {
        self.outlines.load(Ordering::Relaxed)
    }

    /// A copy of the database's present state.
    pub fn snapshot(&self) -> Snapshot {
        Snapshot(
            self.committed
                .lock()
                .unwrap_or_else(PoisonError::into_inner)
                .clone(),
        )
    }

    /// Puts a former state back without the server noticing, as restoring a disk would. For a restore on purpose, also
    /// give it a new epoch with [`MemoryStore::set_epoch`].
    pub fn roll_back(&self, snapshot: &Snapshot) {
        *self.committed.lock().unwrap_or_else(PoisonError::into_inner) = snapshot.0.clone();
    }

    pub fn set_epoch(&self, epoch: Uuid) {
        let mut committed = self.committed.lock().unwrap_or_else(PoisonError::into_inner);
        Arc::make_mut(&mut committed).counter.epoch = epoch;
    }
}

impl Store for MemoryStore {
    type Tx = MemoryTx;

    async fn begin(&self, mode: TxMode) -> Result<MemoryTx, DatabaseError> {
        let write = match mode {
            TxMode::Read => None,
            TxMode::Write => Some((self.clone(), self.writer.clone().lock_owned().await)),
        };
        Ok(MemoryTx {
            state: self.snapshot().0,
            write,
            outlines: self.outlines.clone(),
        })
    }

    async fn scrub(&self) -> Result<(), DatabaseError> {
        Ok(())
    }

    async fn try_write(&self) -> Result<(), DatabaseError> {
        Ok(())
    }

    async fn faults(&self) -> Result<Vec<String>, DatabaseError> {
        Ok(Vec::new())
    }
}

impl StoreTx for MemoryTx {
    async fn commit(self) -> Result<(), DatabaseError> {
        if let Some((store, _guard)) = self.write {
            *store.committed.lock().unwrap_or_else(PoisonError::into_inner) = self.state;
        }
        Ok(())
    }
}

impl MemoryTx {
    fn change(&mut self) -> &mut State {
        assert!(self.write.is_some(), "a reading transaction writes");
        Arc::make_mut(&mut self.state)
    }
}

/// An empty shop in memory with all its parts, which a test can change from outside.
#[derive(Clone)]
pub struct Household {
    pub store: MemoryStore,
    pub photos: MemoryPhotos,
    pub ledger: MemoryLedger,
    pub world: Told,
}

impl Household {
    pub fn new(seed: u64) -> Self {
        let world = Told::new(seed, UnixMs(1_700_000_000_000));
        let id = || {
            let told: &dyn server_core::world::World = &world;
            told.uuid()
        };
        Self {
            store: MemoryStore::new(id(), id()),
            photos: MemoryPhotos::default(),
            ledger: MemoryLedger::default(),
            world,
        }
    }

    /// Starts the server; after [`MemoryStore::roll_back`] again, for a server that was stopped meanwhile.
    pub async fn open(&self) -> MemoryShop {
        let (world, ledger) = (Arc::new(self.world.clone()), Arc::new(self.ledger.clone()));
        Shop::open(self.store.clone(), self.photos.clone(), world, ledger)
            .await
            .unwrap()
    }
}
