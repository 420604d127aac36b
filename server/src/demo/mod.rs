//! The demo shop that `make run` shows. Its people, pairs and pictures are invented.
//!
//! Its entries and pictures are stored as those of any device: by the same ingest, into the same photo folder.
//! [`stories`] are data; [`teller`] makes entries from them; [`picture`] names the pictures that they show.

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
use shared::log::body::Role;
use shared::log::{ReceivedEntry, SubjectId};
use shared::sync::messages::PushOutcome;

use server_core::error::Error;
use server_core::photos::Photos;
use server_core::shop::{Member, Shop};
use server_core::store::Store;
use server_core::world::World;

/// The content of a demo shop.
#[derive(Debug, Clone, Default)]
pub struct Demo {
    /// Its entries, in the order of time.
    pub entries: Vec<ReceivedEntry>,
    /// Its pictures, all JPEG, as SHA-256 and bytes.
    pub blobs: Vec<(String, Vec<u8>)>,
    /// The secret of the card link of one pair, whose care card has several sections.
    pub card: String,
}

impl Demo {
    /// The demo shop as of the world's present time. `shop` is the subject of the entries about the shop itself.
    pub fn now(world: &dyn World, shop: SubjectId) -> Self {
        teller::tell(world, shop)
    }
}

/// Puts the demo shop into an empty shop. Returns the secret of one pair's card link.
///
/// # Errors
/// When the shop cannot store it, for example on a full disk.
pub async fn seed<S: Store, P: Photos>(shop: &Shop<S, P>) -> Result<String, Error> {
    let status = shop.status().await?;
    let demo = Demo::now(shop.world(), SubjectId(status.shop));
    for (sha256, bytes) in demo.blobs {
        let body = stream::iter([Ok(Bytes::from(bytes))]);
        shop.put_blob(&sha256, "image/jpeg", body).await?;
    }
    for batch in demo.entries.chunks(1_000) {
        let Some(first) = batch.first() else { continue };
        let member = Member {
            device: first.entry.device,
            role: Role::Repairer,
        };
        let results = shop.push(&member, batch.to_vec().into()).await?.results;
        if results
            .iter()
            .any(|taken| matches!(taken, PushOutcome::Refused(_)))
        {
            return Err(Error::Fault);
        }
    }
    Ok(demo.card)
}
