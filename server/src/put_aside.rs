//! Files that a restore or a repair has put aside in the data folder. Names may stand in them that are erased later, and
//! no erasure can blank them there: a new erasure deletes the files.

use std::fs::{self, File};
use std::io::{self, Write};
use std::path::{Path, PathBuf};

use server_core::ledger::{ErasureLedger, FileLedger, LedgerLine};
use shared::log::{EntryId, Erasures, UnixMs};

/// How the names of databases begin that a restore has put aside, each with its write-ahead log. The time follows.
pub(crate) const REPLACED: &str = "waxend.db.replaced-";
/// How the names of files begin with the damaged entries that a repair has taken out. The time follows.
const DAMAGED: &str = "waxend.db.damaged-";
/// How the names of ledgers begin that a repair has replaced. The time follows.
const DAMAGED_LEDGER: &str = "erased.jsonl.damaged-";

/// The paths in a folder whose names begin with `beginning`, sorted.
///
/// # Errors
/// When the folder cannot be read.
pub(crate) fn named(folder: &Path, beginning: &str) -> io::Result<Vec<PathBuf>> {
    let mut found = Vec::new();
    for entry in fs::read_dir(folder)? {
        let entry = entry?;
        if entry.file_name().to_string_lossy().starts_with(beginning) {
            found.push(entry.path());
        }
    }
    found.sort();
    Ok(found)
}

/// The databases that restores have put aside, without their write-ahead logs, the oldest first.
///
/// # Errors
/// When the folder cannot be read.
pub fn replaced(folder: &Path) -> io::Result<Vec<PathBuf>> {
    let mut found = named(folder, REPLACED)?;
    found.retain(|path| {
        let name = path.to_string_lossy();
        !name.ends_with("-wal") && !name.ends_with("-shm")
    });
    Ok(found)
}

/// The files of damaged entries that repairs have taken out, the oldest first.
///
/// # Errors
/// When the folder cannot be read.
pub fn damaged(folder: &Path) -> io::Result<Vec<PathBuf>> {
    named(folder, DAMAGED)
}

/// Writes damaged entries, one a line, into a new file. They are durable when this returns.
///
/// # Errors
/// When the file cannot be written.
pub fn keep_damaged(folder: &Path, lines: &[String], now: UnixMs) -> io::Result<()> {
    let path = folder.join(format!("{DAMAGED}{}.jsonl", now.0));
    let mut file = File::create_new(path)?;
    for line in lines {
        writeln!(file, "{line}")?;
    }
    file.sync_all()?;
    File::open(folder)?.sync_all()
}

/// The ids in a file of damaged entries; `None` for an entry whose id could not be read.
///
/// # Errors
/// When the file cannot be read.
pub fn ids(file: &Path) -> io::Result<Vec<Option<EntryId>>> {
    let id = |line: &str| -> Option<EntryId> {
        let entry: serde_json::Value = serde_json::from_str(line).ok()?;
        entry.get("id")?.as_str()?.parse().ok()
    };
    Ok(fs::read_to_string(file)?.lines().map(id).collect())
}

/// Deletes everything that was put aside. Returns how many files that were.
fn delete_all(folder: &Path) -> io::Result<usize> {
    let files = [
        named(folder, REPLACED)?,
        named(folder, DAMAGED)?,
        named(folder, DAMAGED_LEDGER)?,
    ]
    .concat();
    for file in &files {
        fs::remove_file(file)?;
    }
    if !files.is_empty() {
        File::open(folder)?.sync_all()?;
    }
    Ok(files.len())
}

/// The ledger of a data folder. Before it notes a new erasure, it deletes what was put aside there.
#[derive(Debug, Clone)]
pub struct FolderLedger {
    folder: PathBuf,
    file: FileLedger,
}

impl FolderLedger {
    /// The ledger in this file of a data folder.
    pub fn new(folder: &Path, file: &Path) -> Self {
        Self {
            folder: folder.to_owned(),
            file: FileLedger::new(file),
        }
    }
}

impl ErasureLedger for FolderLedger {
    fn append(&self, lines: &[LedgerLine]) -> io::Result<()> {
        if lines.iter().any(erases) {
            let files = delete_all(&self.folder)?;
            if files > 0 {
                tracing::info!(
                    files,
                    "deleted what a restore or a repair had put aside, because of an erasure"
                );
            }
        }
        self.file.append(lines)
    }

    fn lines(&self) -> io::Result<Vec<LedgerLine>> {
        self.file.lines()
    }

    fn blank(&self, erasures: &Erasures) -> io::Result<()> {
        self.file.blank(erasures)
    }
}

/// Whether a line of the ledger erases something.
pub(crate) fn erases(line: &LedgerLine) -> bool {
    !matches!(line, LedgerLine::Revoked(_))
}

#[cfg(test)]
mod tests {
    use server_core::ledger::RevokedToken;

    use super::*;

    #[test]
    fn an_erasure_deletes_what_was_put_aside_and_a_revocation_does_not() {
        let folder = tempfile::tempdir().unwrap();
        let root = folder.path();
        for name in [
            "waxend.db.replaced-5",
            "waxend.db.replaced-5-wal",
            "waxend.db",
            "erased.jsonl.damaged-5",
        ] {
            fs::write(root.join(name), b"rows").unwrap();
        }
        keep_damaged(root, &["{}".to_owned()], UnixMs(6)).unwrap();
        assert_eq!(replaced(root).unwrap(), [root.join("waxend.db.replaced-5")]);
        assert_eq!(damaged(root).unwrap(), [root.join("waxend.db.damaged-6.jsonl")]);
        let ledger = FolderLedger::new(root, &root.join("erased.jsonl"));
        let revoked = LedgerLine::Revoked(RevokedToken {
            token: "ab".to_owned(),
            at: UnixMs(5),
            why: None,
        });
        ledger.append(&[revoked]).unwrap();
        assert_eq!(fs::read_dir(root).unwrap().count(), 6);
        ledger.append(&[LedgerLine::Blob("cd".to_owned())]).unwrap();
        let mut left: Vec<_> = named(root, "").unwrap();
        left.retain(|path| path != &root.join("erased.jsonl"));
        assert_eq!(left, [root.join("waxend.db")]);
    }

    #[test]
    fn the_ids_of_damaged_entries_are_read_again() {
        let folder = tempfile::tempdir().unwrap();
        let id = "017f22e2-79b0-7cc3-98c4-dc0c0c07398f";
        let lines = [
            format!(r#"{{"id":"{id}","columns":{{}}}}"#),
            r#"{"id":null}"#.to_owned(),
        ];
        keep_damaged(folder.path(), &lines, UnixMs(6)).unwrap();
        let file = &damaged(folder.path()).unwrap()[0];
        assert_eq!(ids(file).unwrap(), [Some(id.parse().unwrap()), None]);
    }
}
