//! The archive: many acknowledged entries in one row of `blocks`.
//!
//! A row is text with one entry in each line: its id, the subjects it is about, a tab, and the received entry as JSON.
//! The contents of a row can therefore be listed without parsing JSON, and reading about one pair parses only the lines
//! of that pair. A row is written once and rewritten only by an erasure. Any other change of an archived entry is written
//! as a row of `tail`, which wins when both are merged on reading.

use std::cell::OnceCell;
use std::collections::BTreeMap;
use std::ops::Range;

use shared::log::{EntryId, ReceivedEntry, SubjectId, about};

use super::kv::Row;
use super::meta::encode;
use super::tables::index;

/// The size in bytes of text at which a row is full.
const FULL: usize = 64 * 1024;

/// An archive row that was read, or is to be written.
#[derive(Debug, Default)]
pub(super) struct ArchiveRow {
    text: String,
    lines: Vec<BlockLine>,
    by_subject: BTreeMap<SubjectId, Vec<usize>>,
}

#[derive(Debug)]
struct BlockLine {
    id: EntryId,
    json: Range<usize>,
    /// `None` inside the cell: a shape that only a newer app can read.
    received: OnceCell<Option<ReceivedEntry>>,
}

impl ArchiveRow {
    /// Indexes the lines of a row's text.
    pub(super) fn read(text: &str) -> Self {
        let mut block = Self {
            text: text.to_owned(),
            lines: Vec::new(),
            by_subject: BTreeMap::new(),
        };
        let mut start = 0;
        for line in text.split_inclusive('\n') {
            let end = start + line.trim_end_matches('\n').len();
            if let Some((head, _)) = line.split_once('\t') {
                block.note(head, start + head.len() + 1..end);
            }
            start += line.len();
        }
        block
    }

    fn note(&mut self, head: &str, json: Range<usize>) {
        let mut ids = head.split(' ');
        let Some(id) = ids.next().and_then(|id| id.parse().ok()) else {
            return;
        };
        let received = OnceCell::new();
        self.add(
            BlockLine { id, json, received },
            ids.filter_map(|subject| subject.parse().ok()),
        );
    }

    fn add(&mut self, line: BlockLine, about: impl IntoIterator<Item = SubjectId>) {
        for subject in about {
            self.by_subject.entry(subject).or_default().push(self.lines.len());
        }
        self.lines.push(line);
    }

    /// Adds an entry.
    pub(super) fn push(&mut self, received: &ReceivedEntry) {
        let id = received.entry.id;
        let about = about(&received.entry);
        self.text.push_str(&id.to_string());
        for subject in &about {
            self.text.push(' ');
            self.text.push_str(&subject.to_string());
        }
        self.text.push('\t');
        let start = self.text.len();
        self.text.push_str(&encode(received));
        let json = start..self.text.len();
        self.text.push('\n');
        let received = OnceCell::from(Some(received.clone()));
        self.add(BlockLine { id, json, received }, about);
    }

    /// Adds a line that this version cannot read, unchanged.
    pub(super) fn push_line(&mut self, line: &str) {
        if let Some((head, json)) = line.split_once('\t') {
            let start = self.text.len() + head.len() + 1;
            self.note(head, start..start + json.len());
        }
        self.text.push_str(line);
        self.text.push('\n');
    }

    /// The database row, with this key.
    pub(super) fn row(&self, key: &str) -> Row {
        let mut row = Row::text(key, self.text.as_str());
        row.indexed = self
            .subjects()
            .map(|subject| (index::ABOUT, subject.to_string()))
            .collect();
        row
    }

    /// The subjects of the entries in the row.
    pub(super) fn subjects(&self) -> impl Iterator<Item = SubjectId> {
        self.by_subject.keys().copied()
    }

    /// The entries about a subject.
    pub(super) fn about(&self, subject: SubjectId) -> impl Iterator<Item = &ReceivedEntry> {
        let lines = self.by_subject.get(&subject).into_iter().flatten();
        lines.filter_map(|line| self.received(&self.lines[*line]))
    }

    /// Those of these entries that are in the row.
    pub(super) fn among<V>(&self, wanted: &BTreeMap<EntryId, V>) -> impl Iterator<Item = &ReceivedEntry> {
        let lines = self.lines.iter().filter(|line| wanted.contains_key(&line.id));
        lines.filter_map(|line| self.received(line))
    }

    fn received<'a>(&'a self, line: &'a BlockLine) -> Option<&'a ReceivedEntry> {
        line.received
            .get_or_init(|| serde_json::from_str(&self.text[line.json.clone()]).ok())
            .as_ref()
    }
}

/// The entries of a row, for reading all of them once.
pub(super) fn entries(row: &Row) -> impl Iterator<Item = ReceivedEntry> {
    lines(row).filter_map(parse)
}

/// The lines of a row.
pub(super) fn lines(row: &Row) -> impl Iterator<Item = &str> {
    row.as_text().into_iter().flat_map(str::lines)
}

/// The entry of a line; `None` for a shape that only a newer app can read.
pub(super) fn parse(line: &str) -> Option<ReceivedEntry> {
    serde_json::from_str(line.split_once('\t')?.1).ok()
}

/// Packs entries into as few rows as possible, with a subject's entries together.
pub(super) fn pack<'a>(entries: impl IntoIterator<Item = &'a ReceivedEntry>) -> Vec<ArchiveRow> {
    let mut entries: Vec<_> = entries.into_iter().collect();
    // A stable order: subjects stay in the order in which they came, which keeps a pair beside its job and ticket.
    let mut order = BTreeMap::new();
    for received in &entries {
        let next = order.len();
        order.entry(received.entry.subject.id).or_insert(next);
    }
    entries.sort_by_key(|received| order.get(&received.entry.subject.id).copied());
    let mut packed: Vec<ArchiveRow> = Vec::new();
    for received in entries {
        match packed.last_mut() {
            Some(last) if last.text.len() < FULL => last.push(received),
            _ => {
                let mut next = ArchiveRow::default();
                next.push(received);
                packed.push(next);
            }
        }
    }
    packed
}

/// The key of the n-th row.
pub(super) fn key(number: u64) -> String {
    format!("{number:012}")
}

/// The number of the row with this key.
pub(super) fn number(key: &str) -> Option<u64> {
    key.parse().ok()
}
