//! The format of a backup file: sections, each with its length and its SHA-256, and an end that counts them.
//!
//! ```text
//! waxend-backup 1
//! {"section":"entries","bytes":1234,"sha256":"…"}
//! …1234 bytes…
//! {"section":"blob","bytes":56789,"sha256":"…","media_type":"image/jpeg", …}
//! …56789 bytes…
//! end 2 …SHA-256 of all the lines above…
//! ```
//!
//! A file that is cut, damaged or not a backup is detected before any of it is used. Sections of an unknown kind are
//! skipped.

use serde::de::DeserializeOwned;
use serde::{Deserialize, Serialize};

use crate::store::error::BackupError;
use crate::store::meta::encode;
use crate::store::surroundings::Sha256Digest;

/// The beginning of a file, before the version.
const MAGIC: &str = "waxend-backup ";

/// The version that this app writes, and the newest that it can read.
const VERSION: u32 = 1;

/// The beginning of the last line.
const END: &str = "end ";

/// The fields in the line of every section.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
struct Head {
    section: String,
    bytes: usize,
    sha256: String,
}

/// Writes a file in pieces.
pub(super) struct Writer<'a, D> {
    digest: &'a D,
    sink: &'a mut dyn FnMut(Vec<u8>),
    lines: String,
    sections: usize,
}

impl<'a, D: Sha256Digest> Writer<'a, D> {
    pub(super) fn new(digest: &'a D, sink: &'a mut dyn FnMut(Vec<u8>)) -> Self {
        let mut writer = Self {
            digest,
            sink,
            lines: String::new(),
            sections: 0,
        };
        writer.line(&format!("{MAGIC}{VERSION}"));
        writer
    }

    /// Writes one section. `more` is a struct with the further fields of its line.
    pub(super) async fn section<T: Serialize>(
        &mut self,
        section: &str,
        more: &T,
        bytes: Vec<u8>,
    ) -> Result<(), BackupError> {
        let sha256 = self.digest.sha256(&bytes).await.map_err(BackupError::Digest)?;
        let head = encode(&Head {
            section: section.to_owned(),
            bytes: bytes.len(),
            sha256,
        });
        let more = encode(more);
        // Two objects written as one: the further fields follow those of the head.
        let line = match more.strip_prefix('{') {
            Some("}") | None => head,
            Some(rest) => format!("{},{rest}", head.trim_end_matches('}')),
        };
        self.line(&line);
        (self.sink)(bytes);
        (self.sink)(b"\n".to_vec());
        self.sections += 1;
        Ok(())
    }

    /// Writes the last line.
    pub(super) async fn end(mut self) -> Result<(), BackupError> {
        let sha256 = self
            .digest
            .sha256(self.lines.as_bytes())
            .await
            .map_err(BackupError::Digest)?;
        let end = format!("{END}{} {sha256}", self.sections);
        self.line(&end);
        Ok(())
    }

    fn line(&mut self, line: &str) {
        self.lines.push_str(line);
        self.lines.push('\n');
        (self.sink)(format!("{line}\n").into_bytes());
    }
}

/// One section of a file, checked.
#[derive(Debug, Clone, Copy)]
pub(super) struct FileSection<'a> {
    line: &'a str,
    /// Its content, whose SHA-256 was checked.
    pub(super) bytes: &'a [u8],
}

impl FileSection<'_> {
    /// The kind of the section.
    pub(super) fn kind(&self) -> Result<String, BackupError> {
        Ok(self.says::<Head>()?.section)
    }

    /// The SHA-256 of its content.
    pub(super) fn sha256(&self) -> Result<String, BackupError> {
        Ok(self.says::<Head>()?.sha256)
    }

    /// The further fields in its line.
    pub(super) fn says<T: DeserializeOwned>(&self) -> Result<T, BackupError> {
        serde_json::from_str(self.line).map_err(|_| BackupError::Damaged)
    }
}

/// Splits a whole file into sections, checking every byte.
pub(super) async fn read<'a, D: Sha256Digest>(
    file: &'a [u8],
    digest: &D,
) -> Result<Vec<FileSection<'a>>, BackupError> {
    let mut rest = file;
    let version = take_line(&mut rest)
        .and_then(|line| line.strip_prefix(MAGIC))
        .ok_or(BackupError::Foreign)?;
    match version.parse::<u32>() {
        Ok(version) if version > VERSION => return Err(BackupError::Newer),
        Ok(_) => {}
        Err(_) => return Err(BackupError::Foreign),
    }
    let mut lines = format!("{MAGIC}{version}\n");
    let mut sections = Vec::new();
    loop {
        let line = take_line(&mut rest).ok_or(BackupError::Cut)?;
        if let Some(end) = line.strip_prefix(END) {
            let sha256 = digest
                .sha256(lines.as_bytes())
                .await
                .map_err(BackupError::Digest)?;
            let whole = end == format!("{} {sha256}", sections.len()) && rest.is_empty();
            return if whole {
                Ok(sections)
            } else {
                Err(BackupError::Damaged)
            };
        }
        lines.push_str(line);
        lines.push('\n');
        let head: Head = serde_json::from_str(line).map_err(|_| BackupError::Damaged)?;
        let bytes = rest.get(..head.bytes).ok_or(BackupError::Cut)?;
        rest = rest
            .get(head.bytes..)
            .and_then(|rest| rest.strip_prefix(b"\n"))
            .ok_or(BackupError::Cut)?;
        if digest.sha256(bytes).await.map_err(BackupError::Digest)? != head.sha256 {
            return Err(BackupError::Damaged);
        }
        sections.push(FileSection { line, bytes });
    }
}

/// Removes and returns the first line, without its line feed; `None` if there is no whole line of text.
fn take_line<'a>(rest: &mut &'a [u8]) -> Option<&'a str> {
    let end = rest.iter().position(|byte| *byte == b'\n')?;
    let line = std::str::from_utf8(&rest[..end]).ok()?;
    *rest = &rest[end + 1..];
    Some(line)
}
