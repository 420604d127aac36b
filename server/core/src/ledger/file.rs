//! The ledger as a file.

use std::fs::{self, File, OpenOptions};
use std::io::{self, BufRead, BufReader, Write};
use std::os::unix::fs::MetadataExt;
use std::path::{Path, PathBuf};

use serde::de::IgnoredAny;
use shared::log::Erasures;

use super::blanking::blanked;
use super::marks::{LedgerMark, first_line, sum_of, with_sum};
use super::{ErasureLedger, LedgerLine};

/// The ledger as a file of one JSON object per line.
#[derive(Debug, Clone)]
pub struct FileLedger {
    path: PathBuf,
}

/// What could be read of a ledger's file.
#[derive(Debug, Default)]
pub struct LedgerRead {
    /// Every line that could be read, oldest first.
    pub lines: Vec<LedgerLine>,
    /// How many lines are damaged. One that a crash has cut short is not: what it says was never acknowledged.
    pub damaged: usize,
    /// Whether any line shows that the file is a ledger.
    is_ledger: bool,
}

impl LedgerRead {
    /// Whether the file is a ledger, without any damage that can be noticed.
    pub fn is_sound(&self) -> bool {
        self.is_ledger && self.damaged == 0
    }

    /// Reads a line. `before` is the one before it.
    fn take(&mut self, text: &[u8], before: &[u8]) {
        if text.is_empty() {
            return;
        }
        if let Ok(line) = serde_json::from_slice(text) {
            self.lines.push(line);
            self.is_ledger = true;
            return;
        }
        match serde_json::from_slice(text) {
            Ok(LedgerMark::Ledger(_)) => self.is_ledger = true,
            Ok(LedgerMark::Sha256(sum)) if sum == sum_of(before) => {}
            Err(_) if is_of_later_version(text) || is_cut_short(text) => {}
            Ok(LedgerMark::Sha256(_)) | Err(_) => self.damaged += 1,
        }
    }
}

/// Whether a line is whole, but of a kind that this version does not know.
fn is_of_later_version(text: &[u8]) -> bool {
    text.starts_with(b"{") && serde_json::from_slice::<IgnoredAny>(text).is_ok()
}

/// Whether only the end of a line is missing.
fn is_cut_short(text: &[u8]) -> bool {
    text.starts_with(b"{") && serde_json::from_slice::<IgnoredAny>(text).is_err_and(|error| error.is_eof())
}

/// Whether a line says something that this version or a later one can read.
fn is_worth_keeping(text: &[u8]) -> bool {
    let is_mark = serde_json::from_slice::<LedgerMark>(text).is_ok();
    !is_mark && (serde_json::from_slice::<LedgerLine>(text).is_ok() || is_of_later_version(text))
}

impl FileLedger {
    /// The ledger in this file. The first line creates the file.
    pub fn new(path: &Path) -> Self {
        Self {
            path: path.to_owned(),
        }
    }

    /// Creates the file, if it is not there, so that it can be told from one that was lost.
    ///
    /// # Errors
    /// When it cannot be made durable.
    pub fn create(&self) -> io::Result<()> {
        match self.path.exists() {
            true => Ok(()),
            false => self.write(&first_line()?),
        }
    }

    /// Reads the file; `None` if there is none.
    ///
    /// # Errors
    /// When it is there and cannot be read.
    pub fn read(&self) -> io::Result<Option<LedgerRead>> {
        let file = match File::open(&self.path) {
            Ok(file) => file,
            Err(error) if error.kind() == io::ErrorKind::NotFound => return Ok(None),
            Err(error) => return Err(error),
        };
        let mut read = LedgerRead::default();
        let mut before = Vec::new();
        // Lines are read as bytes: after a crash or a disk error they need not be UTF-8.
        for text in BufReader::new(file).split(b'\n') {
            let text = text?;
            read.take(&text, &before);
            before = text;
        }
        Ok(Some(read))
    }

    /// Replaces a damaged file by one of all lines that can be read. The damaged one is kept under another name, without
    /// the content of the lines that the ledger's own erasures cover. Returns whether it is kept: if it cannot be
    /// blanked, it is deleted.
    ///
    /// # Errors
    /// When the file cannot be replaced; it is then as it was. When the damaged one can be neither blanked nor deleted.
    pub fn mend(&self, damaged: &Path) -> io::Result<bool> {
        let held = self.locked()?;
        let draft = self.draft()?;
        draft.create()?;
        let mut text = Vec::new();
        for line in fs::read(&self.path)?.split(|byte| *byte == b'\n') {
            if is_worth_keeping(line) {
                text.extend(with_sum(line)?);
            }
        }
        draft.write(&text)?;
        fs::hard_link(&self.path, damaged)?;
        fs::rename(&draft.path, &self.path)?;
        self.sync_folder()?;
        // The lock is on the file that has the other name now, and blanking that takes the lock itself.
        drop(held);
        let kept = Self::new(damaged);
        if self.erasures().and_then(|known| kept.blank(&known)).is_ok() {
            return Ok(true);
        }
        fs::remove_file(damaged)?;
        self.sync_folder()?;
        Ok(false)
    }

    /// What the lines of the file erase.
    fn erasures(&self) -> io::Result<Erasures> {
        let mut erasures = Erasures::default();
        for line in self.lines()? {
            if let LedgerLine::Erased(held) = line {
                erasures.note(&held.entry);
            }
        }
        Ok(erasures)
    }

    /// The draft of a file that replaces this one. One that a crash has left is removed.
    fn draft(&self) -> io::Result<Self> {
        let draft = Self::new(&self.path.with_added_extension("part"));
        match fs::remove_file(&draft.path) {
            Err(error) if error.kind() != io::ErrorKind::NotFound => Err(error),
            _ => Ok(draft),
        }
    }

    /// The file, to append to. While it is held, no other process appends to it or replaces it: a command can revoke a
    /// device while a server runs.
    fn locked(&self) -> io::Result<File> {
        loop {
            let file = OpenOptions::new().create(true).append(true).open(&self.path)?;
            file.lock()?;
            let (held, named) = (file.metadata()?, fs::metadata(&self.path)?);
            // Another process may have replaced the file before this one had the lock.
            if (held.dev(), held.ino()) == (named.dev(), named.ino()) {
                return Ok(file);
            }
        }
    }

    /// The file's content without that of the lines that these erasures cover; `None` if there are none.
    fn without(&self, erasures: &Erasures) -> io::Result<Option<Vec<u8>>> {
        match fs::read(&self.path) {
            Ok(file) => blanked(&file, erasures),
            Err(error) if error.kind() == io::ErrorKind::NotFound => Ok(None),
            Err(error) => Err(error),
        }
    }

    /// Appends to the file, durably.
    fn write(&self, text: &[u8]) -> io::Result<()> {
        let mut file = self.locked()?;
        file.write_all(text)?;
        file.sync_all()?;
        self.sync_folder()
    }

    fn sync_folder(&self) -> io::Result<()> {
        match self.path.parent() {
            Some(folder) => File::open(folder)?.sync_all(),
            None => Ok(()),
        }
    }
}

impl ErasureLedger for FileLedger {
    fn append(&self, lines: &[LedgerLine]) -> io::Result<()> {
        if lines.is_empty() {
            return Ok(());
        }
        self.create()?;
        // The first line break ends an incomplete line that a crash may have left.
        let mut text = vec![b'\n'];
        for line in lines {
            text.extend(with_sum(&serde_json::to_vec(line)?)?);
        }
        self.write(&text)
    }

    fn lines(&self) -> io::Result<Vec<LedgerLine>> {
        Ok(self.read()?.unwrap_or_default().lines)
    }

    fn blank(&self, erasures: &Erasures) -> io::Result<()> {
        if self.without(erasures)?.is_none() {
            return Ok(());
        }
        let _held = self.locked()?;
        // Read again: another process may have added lines before this one had the lock.
        let Some(text) = self.without(erasures)? else {
            return Ok(());
        };
        let draft = self.draft()?;
        draft.write(&text)?;
        fs::rename(&draft.path, &self.path)?;
        self.sync_folder()
    }
}

#[cfg(test)]
mod tests {
    use shared::log::UnixMs;

    use super::super::{RevokedToken, Why};
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
            why: None,
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
        file.write_all(b"{\"revoked\":{\"token\":\"dd\",\"at\":5,\"why\":\"of_2031\"}}\n")
            .unwrap();
        ledger.append(&[revoked("cc")]).unwrap();
        let other = LedgerLine::Revoked(RevokedToken {
            token: "dd".to_owned(),
            at: UnixMs(5),
            why: Some(Why::Other),
        });
        let lines = [LedgerLine::Blob("aa".into()), revoked("bb"), other, revoked("cc")];
        assert_eq!(ledger.lines().unwrap(), lines);
    }

    /// Every bit of a ledger's file, flipped on its own.
    #[test]
    fn a_flipped_bit_is_noticed_unless_it_makes_no_difference() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("erased.jsonl");
        let ledger = FileLedger::new(&path);
        ledger
            .append(&[LedgerLine::Blob("aa".into()), revoked("bb")])
            .unwrap();
        let (whole, lines) = (fs::read(&path).unwrap(), ledger.lines().unwrap());
        assert!(ledger.read().unwrap().unwrap().is_sound());
        for bit in 0..whole.len() * 8 {
            let mut bytes = whole.clone();
            bytes[bit / 8] ^= 1 << (bit % 8);
            fs::write(&path, bytes).unwrap();
            let read = ledger.read().unwrap().unwrap();
            assert!(read.lines == lines || !read.is_sound(), "bit {bit}");
        }
    }

    #[test]
    fn an_empty_file_or_another_one_is_no_ledger_and_a_new_one_is() {
        let folder = tempfile::tempdir().unwrap();
        let ledger = FileLedger::new(&folder.path().join("erased.jsonl"));
        assert!(ledger.read().unwrap().is_none());
        for content in [
            "",
            "\n\n",
            "no ledger",
            "{\"log\":\"of something else\"}\n",
            "{\"blob\":\"a",
        ] {
            fs::write(&ledger.path, content).unwrap();
            assert!(!ledger.read().unwrap().unwrap().is_sound(), "{content}");
        }
        fs::remove_file(&ledger.path).unwrap();
        ledger.create().unwrap();
        ledger.create().unwrap();
        let read = ledger.read().unwrap().unwrap();
        assert!(read.is_sound() && read.lines.is_empty());
        // That of an earlier version, and one that a crash has cut short.
        fs::write(&ledger.path, "\n{\"blob\":\"aa\"}\n\n{\"blob\":\"b").unwrap();
        assert!(ledger.read().unwrap().unwrap().is_sound());
    }

    #[test]
    fn a_damaged_ledger_is_mended_and_kept() {
        let folder = tempfile::tempdir().unwrap();
        let [path, damaged] = ["erased.jsonl", "damaged"].map(|name| folder.path().join(name));
        let ledger = FileLedger::new(&path);
        ledger
            .append(&[LedgerLine::Blob("aa".into()), revoked("bb")])
            .unwrap();
        let flawed = fs::read_to_string(&path)
            .unwrap()
            .replace("{\"blob\"", "\"blob\"");
        fs::write(&path, &flawed).unwrap();
        assert!(!ledger.read().unwrap().unwrap().is_sound());
        assert!(ledger.mend(&damaged).unwrap());
        let read = ledger.read().unwrap().unwrap();
        assert!(read.is_sound() && read.lines == [revoked("bb")]);
        assert_eq!(fs::read_to_string(&damaged).unwrap(), flawed);
        assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 2);
    }
}
