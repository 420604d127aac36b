//! The invented shop that `make run` shows: no real person, shop or pair.
//!
//! Its entries and pictures go the way every device's do: the same ingest, the same photo folder. [`stories`] are
//! data; [`teller`] makes entries of them; [`picture`] names the pictures they show.

mod album;
mod cast;
mod pen;
mod picture;
mod section;
mod stories;
mod story;
mod teller;
#[cfg(test)]
mod tests;

use bytes::Bytes;
use futures_util::stream;
use shared::log::{ReceivedEntry, SubjectId};
use shared::sync::messages::PushOutcome;

use crate::error::Error;
use crate::photos::Photos;
use crate::shop::Shop;
use crate::store::Store;
use crate::world::World;

/// What an invented shop consists of.
#[derive(Debug, Clone, Default)]
pub struct Demo {
    /// Its entries, in order.
    pub entries: Vec<ReceivedEntry>,
    /// Its pictures, all JPEG: SHA-256 and bytes.
    pub blobs: Vec<(String, Vec<u8>)>,
    /// The secret of the card link of a pair with a full card.
    pub card: String,
}

impl Demo {
    /// The invented shop as it looks now.
    pub fn now(world: &dyn World, shop: SubjectId) -> Self {
        teller::tell(world, shop)
    }
}

/// Puts the invented shop into an empty one. Returns the secret of one pair's card link.
///
/// # Errors
/// When the shop cannot take it, for example on a full disk.
pub async fn seed<S: Store, P: Photos>(shop: &Shop<S, P>) -> Result<String, Error> {
    let status = shop.status().await?;
    let demo = Demo::now(shop.world(), SubjectId(status.shop));
    for (sha256, bytes) in demo.blobs {
        let body = stream::iter([Ok(Bytes::from(bytes))]);
        shop.put_blob(&sha256, "image/jpeg", body).await?;
    }
    for batch in demo.entries.chunks(1_000) {
        let results = shop.push(batch.to_vec().into()).await?.results;
        if results
            .iter()
            .any(|taken| matches!(taken, PushOutcome::Refused(_)))
        {
            return Err(Error::Fault);
        }
    }
    Ok(demo.card)
}
