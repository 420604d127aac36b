//! Reads all entries, also damaged ones, page by page.

use std::ops::RangeInclusive;

use crate::store::{Budget, CheckTx, CheckedEntry, DatabaseError};

/// How much is read and compared at a time.
const BUDGET: Budget = Budget {
    rows: 5_000,
    bytes: 8 << 20,
};

/// Some of the entries, by the number they got when they were stored.
#[derive(Debug)]
pub(super) struct CheckedPage {
    /// The entries, in order.
    pub(super) rows: Vec<CheckedEntry>,
    /// The numbers that are looked through with this page. Pages leave none out, and the last one has no end.
    pub(super) seqs: RangeInclusive<u64>,
}

/// How far the entries have been read.
#[derive(Debug)]
pub(super) struct CheckedPages {
    /// The number after which the next page begins; `None` after the last page.
    after: Option<u64>,
}

impl CheckedPages {
    /// Before the first page.
    pub(super) fn new() -> Self {
        Self { after: Some(0) }
    }

    /// The next page; `None` after the last. The first one is empty if there are no entries.
    pub(super) async fn next<T: CheckTx>(
        &mut self,
        tx: &mut T,
    ) -> Result<Option<CheckedPage>, DatabaseError> {
        let Some(after) = self.after else {
            return Ok(None);
        };
        let page = tx.entries_after(after, BUDGET).await?;
        self.after = page.rows.last().filter(|_| page.more).map(|last| last.seq);
        Ok(Some(CheckedPage {
            rows: page.rows,
            seqs: after + 1..=self.after.unwrap_or(u64::MAX),
        }))
    }
}
