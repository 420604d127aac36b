//! What a card link shows.

use std::collections::BTreeMap;

use shared::log::fold::{Card, PairHistory, PairHistoryLoader};
use shared::log::{Body, ReceivedEntry, SubjectId, about};

use super::Shop;
use crate::error::Error;
use crate::photos::Photos;
use crate::store::{BlobRow, Budget, LogTx, OutlineTx, Store, StoredEntry, TxMode};

/// The kinds of entry that decide what a card shows.
const KINDS: [&str; 8] = [
    "card_link",
    "erased",
    "mention_erased",
    "opened",
    "published",
    "retracted",
    "same_as",
    "withdrawn",
];
/// The most that is read for one card, so that no card takes much memory: some thousand published sections.
const MOST: Budget = Budget {
    rows: 20_000,
    bytes: 4_000_000,
};

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
    /// It takes one look-up for each level of links, however many subjects that has.
    ///
    /// # Errors
    /// [`Error::NotFound`] for a link that no pair has; [`Error::TooLarge`] for a card with more entries than are read for
    /// one.
    pub async fn card(&self, secret: &str) -> Result<Card, Error> {
        let mut tx = self.begin(TxMode::Read).await?;
        // An unknown secret of any form takes the same query, so that the response time reveals nothing about it.
        let links = tx.linked_pairs(&[secret.to_owned()]).await?;
        let pair = links.get(secret).copied().ok_or(Error::NotFound)?;
        let mut loader = PairHistoryLoader::for_card(pair);
        let mut given = false;
        let mut left = MOST;
        loop {
            let wanted = loader.wanted();
            if wanted.is_empty() {
                break;
            }
            let page = tx.outline(&wanted, &KINDS, left).await?;
            if page.more {
                return Err(Error::TooLarge);
            }
            left = left.after(&page.rows);
            given |= page.rows.iter().any(|stored| gives(&stored.held, secret));
            give(&mut loader, wanted, &page.rows);
        }
        drop(tx);
        let life = loader.finish();
        let retired = given && !stands(&life, secret);
        Ok(if retired { Card::Withdrawn } else { Card::of(&life) })
    }

    /// A photograph of a card, if a section on the card shows it.
    ///
    /// # Errors
    /// As [`Shop::card`], and [`Error::NotFound`] for a photograph that the card does not show.
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

/// Hands each of these subjects the entries about it.
fn give(loader: &mut PairHistoryLoader, wanted: Vec<SubjectId>, rows: &[StoredEntry]) {
    let mut by_subject: BTreeMap<SubjectId, Vec<&ReceivedEntry>> = BTreeMap::new();
    for stored in rows {
        for subject in about(&stored.held.entry) {
            by_subject.entry(subject).or_default().push(&stored.held);
        }
    }
    for id in wanted {
        loader.give(id, by_subject.remove(&id).unwrap_or_default());
    }
}

/// Whether an entry, retracted or replaced or not, gives this link to its pair. An erased one does not.
fn gives(held: &ReceivedEntry, secret: &str) -> bool {
    let is_link = held.entry.kind == "card_link";
    is_link && matches!(Body::of(&held.entry), Body::CardLink(link) if link.secret == secret)
}

/// Whether the pair has this link from an entry that was neither retracted nor replaced.
fn stands(life: &PairHistory, secret: &str) -> bool {
    life.pair.links.iter().any(|link| link.body.secret == secret)
}
