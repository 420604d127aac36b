//! The rules of the shop's log and household, written once above any [`Store`] and any [`Photos`].
//!
//! - `ingest`: taking entries in.
//! - `pull`, `in_shop`, `history`, `missing`: handing them out.
//! - `blobs`: photographs and voice notes.
//! - `members`: joining, tokens, devices.
//! - `card`: what a card link shows.
//! - `check`: whether everything is what it should be.
//!
//! Every method is one or more whole transactions; none is left open across anything slower than the database.

mod blobs;
mod card;
mod check;
mod history;
mod in_shop;
mod ingest;
mod join_code;
mod lost;
mod members;
mod missing;
mod page;
mod pull;
mod status;

use std::sync::{Arc, PoisonError, RwLock};

use shared::log::Erasures;

pub use blobs::Put;
pub use card::CardPhotoAnswer;
pub use check::CheckReport;
pub use ingest::{Batch, read_push};
pub use join_code::typed;
pub use members::letters;
pub use status::Tried;

use crate::error::Error;
use crate::ledger::{Book, ErasureLedger, LedgerLine};
use crate::photos::Photos;
use crate::store::{Store, StoreTx, TxMode};
use crate::world::World;

/// One shop: its database, its photographs, its erasure ledger.
#[derive(Clone)]
pub struct Shop<S, P> {
    store: S,
    photos: P,
    world: Arc<dyn World>,
    book: Arc<Book>,
    erasures: Arc<RwLock<Arc<Erasures>>>,
}

impl<S: Store, P: Photos> Shop<S, P> {
    /// Opens the shop. Whatever the ledger says was erased is erased again first, so that an older database put
    /// back, with or without anyone telling the server, brings nothing to life.
    ///
    /// # Errors
    /// When the database, the ledger or the photo folder fails.
    pub async fn open(
        store: S,
        photos: P,
        world: Arc<dyn World>,
        ledger: Arc<dyn ErasureLedger>,
    ) -> Result<Self, Error> {
        let (book, lines) = Book::open(ledger)?;
        let shop = Self {
            store,
            photos,
            world,
            book: Arc::new(book),
            erasures: Arc::default(),
        };
        shop.erase_again(lines).await?;
        Ok(shop)
    }

    /// The database.
    pub fn store(&self) -> &S {
        &self.store
    }

    /// The photographs.
    pub fn photos(&self) -> &P {
        &self.photos
    }

    /// The time and randomness the shop goes by.
    pub fn world(&self) -> &dyn World {
        &*self.world
    }

    /// What has been erased so far.
    fn erasures(&self) -> Arc<Erasures> {
        self.erasures
            .read()
            .unwrap_or_else(PoisonError::into_inner)
            .clone()
    }

    fn set_erasures(&self, erasures: Erasures) {
        *self.erasures.write().unwrap_or_else(PoisonError::into_inner) = Arc::new(erasures);
    }

    async fn begin(&self, mode: TxMode) -> Result<S::Tx, Error> {
        Ok(self.store.begin(mode).await?)
    }

    /// Applies the ledger, and the erasures the database itself knows, to everything stored.
    async fn erase_again(&self, ledger: Vec<LedgerLine>) -> Result<(), Error> {
        let mut known = Vec::new();
        let mut erasures = Erasures::default();
        for line in ledger {
            match line {
                LedgerLine::Erased(held) => known.push(*held),
                LedgerLine::Blob(hash) => drop(erasures.blobs.insert(hash)),
            }
        }
        let mut tx = self.begin(TxMode::Read).await?;
        known.extend(crate::store::LogTx::erasures(&mut tx).await?);
        tx.commit().await?;
        let hashes = erasures.blobs.clone();
        self.set_erasures(erasures);
        // Taken like any other entry, these find and blank whatever has come back.
        for batch in known.chunks(1_000) {
            self.push(batch.to_vec().into()).await?;
        }
        for hash in hashes.iter().filter_map(|hash| hash.parse().ok()) {
            self.destroy(&hash).await?;
        }
        Ok(())
    }
}
