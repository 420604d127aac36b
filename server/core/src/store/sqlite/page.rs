//! Reads a page of at most a budget.

use futures_util::TryStreamExt;
use futures_util::stream::BoxStream;
use sqlx::sqlite::SqliteRow;

use crate::store::{Budget, DatabaseError, Page};

/// The `LIMIT` of a query: one row more than the budget, to find out whether there are more.
pub(super) fn limit(budget: Budget) -> i64 {
    i64::try_from(budget.rows.saturating_add(1)).unwrap_or(i64::MAX)
}

/// A page while it is read.
pub(super) struct Filling<T> {
    rows: Vec<T>,
    left: Budget,
    pub(super) more: bool,
}

/// What a page keeps of a row, and the bytes that it counts for; `None` leaves the row out.
pub(super) type KeptRow<T> = Result<Option<(T, usize)>, DatabaseError>;

impl<T> Filling<T> {
    pub(super) fn new(budget: Budget) -> Self {
        Self {
            rows: Vec::new(),
            left: budget,
            more: false,
        }
    }

    /// Takes rows until there are no more, or the page is full. `read` returns what the page keeps of a row, and the
    /// bytes that it counts for; `None` leaves the row out.
    pub(super) async fn fill(
        &mut self,
        mut rows: BoxStream<'_, Result<SqliteRow, sqlx::Error>>,
        read: fn(&SqliteRow) -> KeptRow<T>,
    ) -> Result<(), DatabaseError> {
        while let Some(row) = rows.try_next().await? {
            if let Some((kept, bytes)) = read(&row)?
                && !self.takes(kept, bytes)
            {
                break;
            }
        }
        Ok(())
    }

    /// Takes a row and its bytes. Returns false, without taking it, if the page was full already.
    fn takes(&mut self, row: T, bytes: usize) -> bool {
        if self.left.rows == 0 || self.left.bytes == 0 {
            self.more = true;
            return false;
        }
        self.left.rows -= 1;
        self.left.bytes = self.left.bytes.saturating_sub(bytes);
        self.rows.push(row);
        true
    }

    pub(super) fn done(self) -> Page<T> {
        Page {
            rows: self.rows,
            more: self.more,
        }
    }
}
