//! The invented shop that `make run` shows: no real person, shop or pair.
//!
//! Its entries and pictures go the way every device's do: the same ingest, the same photo folder.

mod content;
mod draw;
mod pen;

use bytes::Bytes;
use futures_util::stream;
use shared::log::Held;
use shared::sync::messages::Taken;

use crate::error::Error;
use crate::photos::Photos;
use crate::shop::Shop;
use crate::store::Store;

/// What an invented shop consists of.
#[derive(Debug, Clone, Default)]
pub struct Demo {
    /// Its entries, in order.
    pub entries: Vec<Held>,
    /// Its pictures: SHA-256, media type, bytes.
    pub blobs: Vec<(String, &'static str, Vec<u8>)>,
    /// The secret of one pair's card link.
    pub card: String,
}

/// Puts the invented shop into an empty one. Returns the secret of one pair's card link.
///
/// # Errors
/// When the shop cannot take it, for example on a full disk.
pub async fn seed<S: Store, P: Photos>(shop: &Shop<S, P>) -> Result<String, Error> {
    let status = shop.status().await?;
    let demo = content::demo(shop.world(), status.shop);
    for (sha256, media_type, bytes) in demo.blobs {
        let body = stream::iter([Ok(Bytes::from(bytes))]);
        shop.put_blob(&sha256, media_type, body).await?;
    }
    for batch in demo.entries.chunks(1_000) {
        let results = shop.push(batch.to_vec().into()).await?.results;
        if results.iter().any(|taken| matches!(taken, Taken::Refused(_))) {
            return Err(Error::Fault);
        }
    }
    Ok(demo.card)
}
