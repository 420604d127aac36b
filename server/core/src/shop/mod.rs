//! The rules for a shop's log, photographs and devices, written once for any [`Store`] and any [`Photos`].
//!
//! - `ingest`: accepting entries.
//! - `pull`, `in_shop`, `history`, `missing`: sending them.
//! - `blobs`: photographs and voice notes.
//! - `members`, `joining`: devices, their tokens and roles. `revoked`: tokens that stay revoked. `shut_out`: the proof for
//!   a device that it was shut out.
//! - `kept_aside`: entries that wait for a repairer. `requests`: erasures that were asked for.
//! - `card`: what a card link shows.
//! - `check`: whether all that is stored is intact, and mending what is not.
//!
//! Every method is one or more complete transactions. None stays open while something slower than the database is
//! waited for.

mod asked;
mod blobs;
mod card;
mod check;
mod history;
mod in_shop;
mod ingest;
mod join_code;
mod joining;
mod kept_aside;
mod lost;
mod members;
mod missing;
mod page;
mod pull;
mod requests;
mod revoked;
mod shut_out;
mod status;

use std::sync::{Arc, PoisonError, RwLock};

use shared::log::Erasures;

pub use blobs::Put;
pub use card::CardPhotoAnswer;
pub use check::{CheckReport, Mended, disagreements, mend_database};
pub use in_shop::InShop;
pub use ingest::{Batch, read_push};
pub use join_code::typed;
pub use joining::letters;
pub use members::{Member, TOKEN_MS};
pub use status::Tried;

use crate::error::Error;
use crate::ledger::{Book, ErasureLedger, LedgerLine};
use crate::photos::Photos;
use crate::store::{Store, StoreTx, TxMode};
use crate::world::World;
use asked::AskedEntries;
use in_shop::LastInShop;
use ingest::Pusher;

/// One shop: its database, its photographs, its erasure ledger.
#[derive(Clone)]
pub struct Shop<S, P> {
    store: S,
    photos: P,
    world: Arc<dyn World>,
    book: Arc<Book>,
    erasures: Arc<RwLock<Arc<Erasures>>>,
    asked: Arc<AskedEntries>,
    in_shop: Arc<LastInShop>,
}

impl<S: Store, P: Photos> Shop<S, P> {
    /// Opens the shop. First everything is revoked and erased again that the ledger says was, so that an older database,
    /// whether it was restored with `waxend restore` or only copied into place, brings nothing back.
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
            asked: Arc::default(),
            in_shop: Arc::default(),
        };
        shop.revoke_again(&lines).await?;
        shop.erase_again(lines).await?;
        // The server may have been stopped between an erasure and this. A full disk must not keep the shop shut: the
        // ledger still has every erasure, and the next erasure or the next start blanks it.
        if let Err(error) = shop.book.blank(&shop.erasures()) {
            tracing::warn!(%error, "erased text could not be taken out of the erasure ledger");
        }
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

    /// The clock and the random numbers that the shop uses.
    pub fn world(&self) -> &dyn World {
        &*self.world
    }

    /// All erasures that are known now.
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

    /// Applies the erasures of the ledger and of the database to everything that is stored.
    async fn erase_again(&self, ledger: Vec<LedgerLine>) -> Result<(), Error> {
        let mut known = Vec::new();
        let mut erasures = Erasures::default();
        for line in ledger {
            match line {
                LedgerLine::Erased(held) => known.push(*held),
                LedgerLine::Blob(hash) => drop(erasures.blobs.insert(hash.to_ascii_lowercase())),
                LedgerLine::Revoked(_) => {}
            }
        }
        let mut tx = self.begin(TxMode::Read).await?;
        known.extend(crate::store::LogTx::erasures(&mut tx).await?);
        tx.commit().await?;
        // Those that are erased themselves come after what explains that they are blank.
        known.sort_by_key(|held| held.entry.is_blank());
        let hashes = erasures.blobs.clone();
        self.set_erasures(erasures);
        // They are pushed like any other entries, which blanks whatever they cover.
        for batch in known.chunks(1_000) {
            self.push_as(Pusher::Shop, batch.to_vec().into()).await?;
        }
        for hash in hashes.iter().filter_map(|hash| hash.parse().ok()) {
            self.destroy(&hash).await?;
        }
        Ok(())
    }
}
