//! What a card link shows.

use shared::log::fold::{Card, PairHistory, PairHistoryLoader};
use shared::log::{Body, ReceivedEntry};

use super::Shop;
use crate::error::Error;
use crate::photos::Photos;
use crate::store::{BlobRow, LogTx, Store, TxMode};

/// The answer to a request for a card's photograph.
pub enum CardPhotoAnswer<R> {
    /// The card shows it: its row and its bytes.
    Here(BlobRow, R),
    /// The card shows it, but its bytes have not arrived yet.
    NotYet,
    /// The card shows it, but it was destroyed.
    Destroyed,
}

impl<S: Store, P: Photos> Shop<S, P> {
    /// The card behind a link. It is withdrawn if the link's entry was retracted or replaced. A pair, together with all
    /// records that are the same pair, can have several links; each one whose entry was neither retracted nor replaced
    /// leads to the pair's card.
    ///
    /// # Errors
    /// [`Error::NotFound`] for a link that no pair has.
    pub async fn card(&self, secret: &str) -> Result<Card, Error> {
        let mut tx = self.begin(TxMode::Read).await?;
        // An unknown secret of any form takes the same query, so that the response time reveals nothing about it.
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

    /// A photograph of a card, if a section on the card shows it.
    ///
    /// # Errors
    /// [`Error::NotFound`] for a link that no pair has, and for a photograph that the card does not show.
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
            // It was destroyed by an erasure that concerns another pair.
            Err(Error::Erased) => Ok(CardPhotoAnswer::Destroyed),
            Err(error) => Err(error),
        }
    }
}

/// Whether an entry, retracted or replaced or not, gives this link to its pair. An erased one does not.
fn gives(held: &ReceivedEntry, secret: &str) -> bool {
    matches!(Body::of(&held.entry), Body::CardLink(link) if link.secret == secret)
}

/// Whether the pair has this link from an entry that was neither retracted nor replaced.
fn stands(life: &PairHistory, secret: &str) -> bool {
    life.pair.links.iter().any(|link| link.body.secret == secret)
}
