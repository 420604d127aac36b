//! The erasure ledger: what was erased and which tokens were revoked, recorded outside the database and outside backups,
//! so that restoring an older copy of either brings back neither.
//!
//! Lines are only ever added, and their order does not matter. A line of a kind that this version does not know is
//! skipped, as earlier versions skip [`LedgerLine::Revoked`].

use std::collections::HashSet;
use std::fs::{File, OpenOptions};
use std::io::{self, BufRead, BufReader, Write};
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex, PoisonError};

use serde::{Deserialize, Serialize};
use shared::log::{ReceivedEntry, UnixMs};

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
}

impl LedgerLine {
    /// The key of a line: the entry's id, the blob's hash, or the token's hash after a word of its own. Devices choose the
    /// names of blobs, and one that is named like a token must not keep the token out of the ledger.
    fn what(&self) -> String {
        match self {
            Self::Erased(held) => held.entry.id.to_string(),
            Self::Blob(hash) => hash.clone(),
            Self::Revoked(revoked) => format!("token {}", revoked.token),
        }
    }
}

/// An append-only list of erasures and revocations that does not depend on the database.
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
}

/// The ledger as a file of one JSON object per line.
#[derive(Debug, Clone)]
pub struct FileLedger {
    path: PathBuf,
}

impl FileLedger {
    /// The ledger in this file. The first line creates the file.
    pub fn new(path: &Path) -> Self {
        Self {
            path: path.to_owned(),
        }
    }
}

impl ErasureLedger for FileLedger {
    fn append(&self, lines: &[LedgerLine]) -> io::Result<()> {
        if lines.is_empty() {
            return Ok(());
        }
        // The first line break ends an incomplete line that a crash may have left.
        let mut text = vec![b'\n'];
        for line in lines {
            serde_json::to_writer(&mut text, line)?;
            text.push(b'\n');
        }
        let mut file = OpenOptions::new().create(true).append(true).open(&self.path)?;
        file.write_all(&text)?;
        file.sync_all()?;
        match self.path.parent() {
            Some(folder) => File::open(folder)?.sync_all(),
            None => Ok(()),
        }
    }

    fn lines(&self) -> io::Result<Vec<LedgerLine>> {
        let file = match File::open(&self.path) {
            Ok(file) => file,
            Err(error) if error.kind() == io::ErrorKind::NotFound => return Ok(Vec::new()),
            Err(error) => return Err(error),
        };
        let mut lines = Vec::new();
        // Lines are read as bytes: after a crash or a disk error they need not be UTF-8.
        for text in BufReader::new(file).split(b'\n') {
            // A line that a crash has cut short can be skipped: what it says was never acknowledged.
            if let Ok(line) = serde_json::from_slice(&text?) {
                lines.push(line);
            }
        }
        Ok(lines)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_line_cut_short_hides_neither_the_lines_before_nor_after() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("erased.jsonl");
        let ledger = FileLedger::new(&path);
        assert_eq!(ledger.lines().unwrap(), []);
        ledger.append(&[LedgerLine::Blob("aa".into())]).unwrap();
        OpenOptions::new()
            .append(true)
            .open(&path)
            .unwrap()
            .write_all(b"{\"blob\":\"b")
            .unwrap();
        ledger.append(&[LedgerLine::Blob("cc".into())]).unwrap();
        assert_eq!(
            ledger.lines().unwrap(),
            [LedgerLine::Blob("aa".into()), LedgerLine::Blob("cc".into())]
        );
    }

    #[test]
    fn a_line_that_is_no_text_hides_no_other() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("erased.jsonl");
        let ledger = FileLedger::new(&path);
        ledger.append(&[LedgerLine::Blob("aa".into())]).unwrap();
        let mut file = OpenOptions::new().append(true).open(&path).unwrap();
        file.write_all(b"{\"blob\":\"b\xc3").unwrap();
        ledger.append(&[LedgerLine::Blob("cc".into())]).unwrap();
        assert_eq!(
            ledger.lines().unwrap(),
            [LedgerLine::Blob("aa".into()), LedgerLine::Blob("cc".into())]
        );
    }

    fn revoked(token: &str) -> LedgerLine {
        LedgerLine::Revoked(RevokedToken {
            token: token.to_owned(),
            at: UnixMs(5),
        })
    }

    #[test]
    fn what_a_later_version_adds_hides_no_line() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("erased.jsonl");
        let ledger = FileLedger::new(&path);
        ledger.append(&[LedgerLine::Blob("aa".into())]).unwrap();
        let mut file = OpenOptions::new().append(true).open(&path).unwrap();
        file.write_all(b"{\"kind_of_2031\":{\"at\":5}}\n").unwrap();
        file.write_all(b"{\"revoked\":{\"token\":\"bb\",\"at\":5,\"by\":\"x\"}}\n")
            .unwrap();
        ledger.append(&[revoked("cc")]).unwrap();
        let lines = [LedgerLine::Blob("aa".into()), revoked("bb"), revoked("cc")];
        assert_eq!(ledger.lines().unwrap(), lines);
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
