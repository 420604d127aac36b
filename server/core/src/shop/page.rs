//! Cuts pages of at most [`BATCH_BYTES`] of JSON.

use std::io::{self, Write};

use serde::Serialize;
use shared::sync::messages::BATCH_BYTES;

use crate::store::Budget;

/// How much is read for one page before it is cut to its exact size. An entry is at least 400 bytes of JSON, so that
/// this many rows fill any page.
pub(super) const READ: Budget = Budget {
    rows: BATCH_BYTES / 400,
    bytes: BATCH_BYTES,
};

/// Bytes of JSON in an answer besides its entries.
const FRAME: usize = 1_000;

/// A writer that only counts bytes.
struct Counting(usize);

impl Write for Counting {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        self.0 += bytes.len();
        Ok(bytes.len())
    }

    fn flush(&mut self) -> io::Result<()> {
        Ok(())
    }
}

/// How many of these entries fit into one page; at least one, if there is one.
pub(super) fn fitting<'a, T: Serialize + 'a>(entries: impl Iterator<Item = &'a T>) -> usize {
    let mut left = BATCH_BYTES - FRAME;
    let mut fit = 0;
    for held in entries {
        let mut counting = Counting(1);
        // Neither writing to a counter nor serialising a struct of plain fields can fail.
        let _ = serde_json::to_writer(&mut counting, held);
        if counting.0 > left && fit > 0 {
            break;
        }
        left = left.saturating_sub(counting.0);
        fit += 1;
    }
    fit
}
