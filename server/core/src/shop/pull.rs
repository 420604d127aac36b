//! Sends the entries after a cursor.

use std::collections::HashSet;

use shared::log::body::Role;
use shared::sync::Cursor;
use shared::sync::messages::{MAX_ASKED, PullAnswer};
use uuid::Uuid;

use super::{Shop, page, requests};
use crate::error::Error;
use crate::photos::Photos;
use crate::store::{LogTx, Numbering, Store, TxMode};

impl<S: Store, P: Photos> Shop<S, P> {
    /// A page of what follows `cursor`, or of everything from the start if it is `None`, for a device of this role.
    /// `pushed` is the server's cursor after the device's last push.
    ///
    /// # Errors
    /// [`Error::CursorLost`] when one of the two is no cursor of this numbering.
    pub async fn pull(
        &self,
        role: &Role,
        cursor: Option<Cursor>,
        pushed: Option<Cursor>,
    ) -> Result<PullAnswer, Error> {
        let mut tx = self.begin(TxMode::Read).await?;
        let counter = tx.counter().await?;
        if let Some(pushed) = pushed {
            verified(&mut tx, &counter, pushed).await?;
        }
        let from = match cursor {
            Some(cursor) => verified(&mut tx, &counter, cursor).await?,
            None => Cursor {
                epoch: counter.epoch,
                seq: 0,
                mark: Uuid::nil(),
            },
        };
        let mut rows = tx.feed_after(from.seq, page::READ).await?.rows;
        rows.truncate(page::fitting(rows.iter().map(|(_, held)| held)));
        let cursor = match rows.last() {
            Some((numbered, _)) => Cursor {
                epoch: counter.epoch,
                seq: numbered.seq,
                mark: numbered.mark,
            },
            None => from,
        };
        // An entry that is numbered twice within the page is sent once.
        let mut seen = HashSet::with_capacity(rows.len());
        rows.retain(|(numbered, _)| seen.insert(numbered.entry));
        let entries = rows.into_iter().map(|(_, held)| held).collect();
        let more = cursor.seq < counter.seq;
        let wanted = if more {
            Vec::new()
        } else {
            self.wanted(&mut tx).await?
        };
        let due = if more || *role != Role::Repairer {
            Vec::new()
        } else {
            requests::due(&mut tx, self.world.now(), &self.erasures()).await?
        };
        Ok(PullAnswer {
            entries,
            cursor,
            more,
            wanted,
            due,
            role: role.clone(),
        })
    }

    /// Blobs that entries name and whose bytes are neither stored nor erased.
    async fn wanted(&self, tx: &mut S::Tx) -> Result<Vec<String>, Error> {
        let erasures = self.erasures();
        let names = tx
            .awaited(MAX_ASKED)
            .await?
            .into_iter()
            .map(|hash| hash.to_string());
        Ok(names.filter(|name| !erasures.covers_blob(name)).collect())
    }
}

/// The cursor, if its number and mark are in this numbering.
pub(super) async fn verified<T: LogTx>(
    tx: &mut T,
    counter: &Numbering,
    cursor: Cursor,
) -> Result<Cursor, Error> {
    let stands = match cursor.seq {
        0 => cursor.mark.is_nil(),
        seq => tx.mark_at(seq).await? == Some(cursor.mark),
    };
    if stands && cursor.epoch == counter.epoch {
        Ok(cursor)
    } else {
        Err(Error::CursorLost)
    }
}

/// The cursor at the end of the numbering.
pub(super) async fn here<T: LogTx>(tx: &mut T, counter: &Numbering) -> Result<Cursor, Error> {
    let mark = tx.mark_at(counter.seq).await?.unwrap_or_default();
    Ok(Cursor {
        epoch: counter.epoch,
        seq: counter.seq,
        mark,
    })
}
