//! Reads a page of at most a budget.

use crate::store::{Budget, Page};

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

impl<T> Filling<T> {
    pub(super) fn new(budget: Budget) -> Self {
        Self {
            rows: Vec::new(),
            left: budget,
            more: false,
        }
    }

    /// Takes a row and its bytes. Returns false, without taking it, if the page was full already.
    pub(super) fn takes(&mut self, row: T, bytes: usize) -> bool {
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
