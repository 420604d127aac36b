//! The lines of a ledger's file that say nothing of the shop: what the file is, and the digests of the other lines.

use std::io;

use serde::{Deserialize, Serialize};
use sha2::{Digest as _, Sha256};

/// A line of the file that says nothing of the shop.
#[derive(Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub(super) enum LedgerMark {
    /// The first line: what the file is. Earlier versions did not write it.
    Ledger(String),
    /// The SHA-256 of the line before, in hex.
    Sha256(String),
}

/// The SHA-256 of a line in hex.
pub(super) fn sum_of(line: &[u8]) -> String {
    hex::encode(Sha256::digest(line))
}

/// A line and then its SHA-256, each with the line break that ends it.
pub(super) fn with_sum(line: &[u8]) -> io::Result<Vec<u8>> {
    let mut text = line.to_vec();
    text.push(b'\n');
    serde_json::to_writer(&mut text, &LedgerMark::Sha256(sum_of(line)))?;
    text.push(b'\n');
    Ok(text)
}

/// The first line of a new file.
pub(super) fn first_line() -> io::Result<Vec<u8>> {
    let mut text = serde_json::to_vec(&LedgerMark::Ledger("waxend 1".to_owned()))?;
    text.push(b'\n');
    Ok(text)
}
