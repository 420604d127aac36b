//! The erasure ledger: what was erased and which tokens were revoked, recorded outside the database and outside backups,
//! so that restoring an older copy of either brings back neither.
//!
//! Lines are only ever added, and their order does not matter. What one says is taken out of it once that is erased itself
//! (`blanking`): what an erased mention has left of an entry goes with a second mention in it, and with its subject.
//! Everything else in the ledger is ids, hashes and times. A line of a kind that this version does not know is
//! skipped, as earlier versions skip [`LedgerLine::Revoked`]. After each line stands its SHA-256, so that damage is
//! noticed; lines of earlier versions have none.

mod blanking;
mod file;
mod marks;

use std::collections::HashSet;
use std::io;
use std::sync::{Arc, Mutex, PoisonError};

pub use file::{FileLedger, LedgerRead};
use serde::{Deserialize, Serialize};
use shared::log::{Erasures, ReceivedEntry, UnixMs};

/// One line of the ledger.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum LedgerLine {
    /// An `erased` entry, as it was received.
    Erased(Box<ReceivedEntry>),
    /// A blob that only erased entries named, SHA-256 in hex.
    Blob(String),
    /// A token that was revoked.
    Revoked(RevokedToken),
}

/// A token that opens the shop no more.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct RevokedToken {
    /// SHA-256 of the token in hex.
    pub token: String,
    /// When it was revoked.
    pub at: UnixMs,
    /// Why. Lines of earlier versions do not say it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub why: Option<Why>,
}

/// Why a token was revoked.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Why {
    /// Somebody has shut its device out.
    ShutOut,
    /// Its device has joined again and has a new one.
    Replaced,
    /// No request has come with it for half a year.
    Expired,
    /// A later version has another reason.
    #[serde(other)]
    Other,
}

impl LedgerLine {
    /// Takes the content out of an erasure that these erasures cover. Returns whether that has changed the line.
    pub fn blank(&mut self, erasures: &Erasures) -> bool {
        match self {
            Self::Erased(held) => erasures.blank(&mut held.entry),
            Self::Blob(_) | Self::Revoked(_) => false,
        }
    }

    /// The key of a line: the entry's id, the blob's hash, or the token's hash after a word of its own. Devices choose the
    /// names of blobs, and one that is named like a token must not keep the token out of the ledger. That a device was shut
    /// out is noted also if its token was revoked before.
    fn what(&self) -> String {
        match self {
            Self::Erased(held) => held.entry.id.to_string(),
            Self::Blob(hash) => hash.clone(),
            Self::Revoked(revoked) if revoked.why == Some(Why::ShutOut) => {
                format!("token {} shut out", revoked.token)
            }
            Self::Revoked(revoked) => format!("token {}", revoked.token),
        }
    }
}

/// A list of erasures and revocations that does not depend on the database.
pub trait ErasureLedger: Send + Sync {
    /// Appends lines. They are durable when this returns.
    ///
    /// # Errors
    /// When they could not be made durable.
    fn append(&self, lines: &[LedgerLine]) -> io::Result<()>;

    /// Every line, oldest first.
    ///
    /// # Errors
    /// When the ledger cannot be read.
    fn lines(&self) -> io::Result<Vec<LedgerLine>>;

    /// Takes the content out of every line that these erasures cover ([`LedgerLine::blank`]). That is durable when this
    /// returns; until then the ledger is as it was.
    ///
    /// # Errors
    /// When it could not be made durable.
    fn blank(&self, erasures: &Erasures) -> io::Result<()>;
}

/// A ledger and the keys of its lines, so that repeating what a line says does not add it again.
pub(crate) struct Book {
    ledger: Arc<dyn ErasureLedger>,
    written: Mutex<HashSet<String>>,
}

impl Book {
    /// Opens a ledger. Returns it with all of its lines.
    pub(crate) fn open(ledger: Arc<dyn ErasureLedger>) -> io::Result<(Self, Vec<LedgerLine>)> {
        let lines = ledger.lines()?;
        let written = Mutex::new(lines.iter().map(LedgerLine::what).collect());
        Ok((Self { ledger, written }, lines))
    }

    /// Appends those of these lines that are not in the ledger yet. They are durable when this returns.
    pub(crate) fn note(&self, lines: &[LedgerLine]) -> io::Result<()> {
        let mut written = self.written.lock().unwrap_or_else(PoisonError::into_inner);
        let new: Vec<_> = lines
            .iter()
            .filter(|line| !written.contains(&line.what()))
            .cloned()
            .collect();
        self.ledger.append(&new)?;
        written.extend(new.iter().map(LedgerLine::what));
        Ok(())
    }

    /// Takes the content out of every line that these erasures cover.
    pub(crate) fn blank(&self, erasures: &Erasures) -> io::Result<()> {
        let _written = self.written.lock().unwrap_or_else(PoisonError::into_inner);
        self.ledger.blank(erasures)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn revoked(token: &str) -> LedgerLine {
        LedgerLine::Revoked(RevokedToken {
            token: token.to_owned(),
            at: UnixMs(5),
            why: None,
        })
    }

    #[test]
    fn that_a_device_was_shut_out_is_noted_once_also_after_its_token_was_replaced() {
        let folder = tempfile::tempdir().unwrap();
        let ledger = FileLedger::new(&folder.path().join("erased.jsonl"));
        let (book, _) = Book::open(Arc::new(ledger.clone())).unwrap();
        let line = |why| {
            LedgerLine::Revoked(RevokedToken {
                token: "aa".to_owned(),
                at: UnixMs(5),
                why: Some(why),
            })
        };
        for _ in 0..2 {
            book.note(&[line(Why::Replaced)]).unwrap();
            book.note(&[line(Why::Expired), line(Why::ShutOut)]).unwrap();
        }
        assert_eq!(ledger.lines().unwrap(), [line(Why::Replaced), line(Why::ShutOut)]);
    }

    #[test]
    fn a_blob_named_like_a_token_does_not_keep_it_out() {
        let folder = tempfile::tempdir().unwrap();
        let ledger = FileLedger::new(&folder.path().join("erased.jsonl"));
        let (book, _) = Book::open(Arc::new(ledger.clone())).unwrap();
        for _ in 0..2 {
            book.note(&[LedgerLine::Blob("aa".into())]).unwrap();
            book.note(&[revoked("aa")]).unwrap();
        }
        assert_eq!(
            ledger.lines().unwrap(),
            [LedgerLine::Blob("aa".into()), revoked("aa")],
            "each is there, and once"
        );
    }
}
