//! What a card link shows.

use shared::log::fold::{Card, PairHistory, PairHistoryLoader};
use shared::log::{Body, ReceivedEntry};

use super::Shop;
use crate::error::Error;
use crate::photos::Photos;
use crate::store::{BlobRow, LogTx, Store, TxMode};

/// A photograph of a card.
pub enum CardPhotoAnswer<R> {
    /// Its bytes.
    Here(BlobRow, R),
    /// A shown section lists it, and its bytes have not arrived yet.
    NotYet,
    /// A shown section lists it, and it was destroyed since.
    Destroyed,
}

impl<S: Store, P: Photos> Shop<S, P> {
    /// The card behind a link: taken back, if the link is. Of a pair's links, and of those of all that are the same
    /// pair, every one leads to the card whose entry stands, neither retracted nor replaced.
    ///
    /// # Errors
    /// [`Error::NotFound`] for a link that no pair has.
    pub async fn card(&self, secret: &str) -> Result<Card, Error> {
        let mut tx = self.begin(TxMode::Read).await?;
        // The same work for a guess of any shape, so that its time tells nothing.
        let links = tx.linked_pairs(&[secret.to_owned()]).await?;
        let pair = links.get(secret).copied().ok_or(Error::NotFound)?;
        let mut gather = PairHistoryLoader::pair(pair);
        let mut given = false;
        loop {
            let wanted = gather.wanted();
            if wanted.is_empty() {
                let life = gather.finish();
                let retired = given && !stands(&life, secret);
                return Ok(if retired { Card::Withdrawn } else { Card::of(&life) });
            }
            for id in wanted {
                let about = tx.about(&[id]).await?;
                given |= about.iter().any(|stored| gives(&stored.held, secret));
                gather.give(id, about.into_iter().map(|stored| stored.held));
            }
        }
    }

    /// A photograph of a card, if a shown section lists it.
    ///
    /// # Errors
    /// [`Error::NotFound`] for a link no pair has and for a photograph the card does not show.
    pub async fn card_photo(&self, secret: &str, sha256: &str) -> Result<CardPhotoAnswer<P::Reader>, Error> {
        let card = self.card(secret).await?;
        if card.has_destroyed(sha256) {
            return Ok(CardPhotoAnswer::Destroyed);
        }
        if !card.lists(sha256) {
            return Err(Error::NotFound);
        }
        match self.blob(sha256).await {
            Ok((row, reader)) => Ok(CardPhotoAnswer::Here(row, reader)),
            Err(Error::NotFound) => Ok(CardPhotoAnswer::NotYet),
            // On another pair's account.
            Err(Error::Erased) => Ok(CardPhotoAnswer::Destroyed),
            Err(error) => Err(error),
        }
    }
}

/// Whether an entry, whatever its standing, gives this link to its pair. One that was erased says nothing.
fn gives(held: &ReceivedEntry, secret: &str) -> bool {
    matches!(Body::of(&held.entry), Body::CardLink(link) if link.secret == secret)
}

/// Whether a standing entry gives this link to the pair.
fn stands(life: &PairHistory, secret: &str) -> bool {
    life.pair.links.iter().any(|link| link.body.secret == secret)
}
