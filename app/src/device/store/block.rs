//! The archive: many acknowledged entries in one row of `blocks`.
//!
//! A row is text, one entry a line: the entry's id, a space, the held entry as JSON. Ids and subjects are found
//! in a line as text, so that reading about one pair parses only that pair's lines. A row is written once and
//! rewritten only by an erasure; whatever else changes in an archived entry is written as a row of `tail` and
//! wins when the two are merged on reading.

use std::collections::BTreeSet;

use shared::log::{EntryId, Held, SubjectId, about};

use super::kv::Row;
use super::meta::encode;
use super::tables::index;

/// The size at which a row is full, in bytes of text.
const FULL: usize = 64 * 1024;

/// The length of an id as text.
const ID: usize = 36;

/// Whether an entry may be archived: every subject it is about must stand in its line as text.
///
/// Only an entry whose maker spelt an id unusually (in capitals, say) is turned away, and lives in the tail.
pub(super) fn archivable(held: &Held) -> bool {
    let subject = held.entry.subject.id;
    about(&held.entry)
        .into_iter()
        .all(|id| id == subject || held.entry.body.contains(&id.to_string()))
}

/// One entry as a line, without the line's end.
pub(super) fn line(held: &Held) -> String {
    format!("{} {}", held.entry.id, encode(held))
}

/// The id a line begins with.
pub(super) fn id_of(line: &str) -> Option<EntryId> {
    line.get(..ID)?.parse().ok()
}

/// The entry of a line.
pub(super) fn parse(line: &str) -> Option<Held> {
    serde_json::from_str(line.get(ID + 1..)?).ok()
}

/// The entries of a row's text that are about `subject`.
pub(super) fn about_subject(text: &str, subject: SubjectId) -> impl Iterator<Item = Held> {
    let needle = subject.to_string();
    text.lines()
        .filter(move |line| line.contains(&needle))
        .filter_map(parse)
        .filter(move |held| about(&held.entry).contains(&subject))
}

/// Packs entries into the texts of as few rows as may be, a subject's entries together.
pub(super) fn pack<'a>(entries: impl IntoIterator<Item = &'a Held>) -> Vec<Packed> {
    let mut entries: Vec<_> = entries.into_iter().collect();
    // Stable: subjects stay in the order in which they came, which puts a pair beside its job and ticket.
    let mut order = std::collections::BTreeMap::new();
    for held in &entries {
        let next = order.len();
        order.entry(held.entry.subject.id).or_insert(next);
    }
    entries.sort_by_key(|held| order.get(&held.entry.subject.id).copied());
    let mut packed = vec![Packed::default()];
    for held in entries {
        if packed.last().is_some_and(|last| last.text.len() >= FULL) {
            packed.push(Packed::default());
        }
        if let Some(last) = packed.last_mut() {
            last.push(held);
        }
    }
    packed.retain(|one| !one.text.is_empty());
    packed
}

/// The text of one row and the subjects inside.
#[derive(Debug, Default)]
pub(super) struct Packed {
    /// Lines.
    pub(super) text: String,
    about: BTreeSet<SubjectId>,
}

impl Packed {
    pub(super) fn push(&mut self, held: &Held) {
        self.text.push_str(&line(held));
        self.text.push('\n');
        self.about.extend(about(&held.entry));
    }

    /// Keeps a line that cannot be read here, with the subjects its row was found under.
    pub(super) fn push_line(&mut self, line: &str) {
        self.text.push_str(line);
        self.text.push('\n');
    }

    /// Files the row under these subjects too.
    pub(super) fn file_under(&mut self, subjects: impl IntoIterator<Item = SubjectId>) {
        self.about.extend(subjects);
    }

    /// The row, under this key.
    pub(super) fn row(&self, key: &str) -> Row {
        let mut row = Row::text(key, self.text.as_str());
        row.indexed = self
            .about
            .iter()
            .map(|subject| (index::ABOUT, subject.to_string()))
            .collect();
        row
    }
}

/// The key of the n-th row.
pub(super) fn key(number: u64) -> String {
    format!("{number:012}")
}
