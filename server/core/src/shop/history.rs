//! Sends the history to a new device, newest subject first.

use shared::sync::messages::HistoryAnswer;
use shared::sync::{Cursor, HistoryMark};

use super::{Shop, page, pull};
use crate::error::Error;
use crate::photos::Photos;
use crate::store::{LogTx, Store, TxMode};

impl<S: Store, P: Photos> Shop<S, P> {
    /// A page of the entries that were stored at the cursor `start`; it begins after `from`.
    ///
    /// # Errors
    /// [`Error::CursorLost`] when `start` is no cursor of this numbering.
    pub async fn history(&self, start: Cursor, from: Option<HistoryMark>) -> Result<HistoryAnswer, Error> {
        let mut tx = self.begin(TxMode::Read).await?;
        let counter = tx.counter().await?;
        pull::verified(&mut tx, &counter, start).await?;
        let read = tx.history(start.seq, from, page::READ).await?;
        let mut rows = read.rows;
        let fit = page::fitting(rows.iter().map(|stored| &stored.held));
        let more = read.more || fit < rows.len();
        rows.truncate(fit);
        let next = rows.last().filter(|_| more).map(|last| HistoryMark {
            subject_seq: last.subject_seq,
            seq: last.seq,
        });
        Ok(HistoryAnswer {
            entries: rows.into_iter().map(|stored| stored.held).collect(),
            next,
        })
    }
}
