//! Search over every pair the shop ever had: lines of text, many packed into each row, searched in memory.
//!
//! Rows of `search` have up to 256 lines each, so that the text of 20,000 pairs is loaded in 80 rows. A pair keeps the
//! place it was first given.

use std::cmp::Reverse;
use std::collections::BTreeMap;

use shared::log::fold::Summary;
use shared::log::{SubjectId, UnixMs, inserted};

use super::kv::{KvError, KvTx, Row};
use super::tables::SEARCH;

/// Lines in one row.
const LINES: u64 = 256;

/// The searchable text of one pair.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct SearchLine {
    pair: SubjectId,
    /// When its newest job was opened.
    newest: UnixMs,
    text: String,
}

impl SearchLine {
    pub(super) fn of(summary: &Summary) -> Self {
        Self {
            pair: summary.id,
            newest: summary.jobs.first().map_or(UnixMs(0), |job| job.opened_at),
            text: summary.search_text().replace('\t', " "),
        }
    }

    fn parse(line: &str) -> Option<Self> {
        let mut parts = line.splitn(3, '\t');
        let (pair, newest, text) = (parts.next()?, parts.next()?, parts.next()?);
        Some(Self {
            pair: pair.parse().ok()?,
            newest: UnixMs(newest.parse().ok()?),
            text: text.to_owned(),
        })
    }

    fn write(&self) -> String {
        format!("{}\t{}\t{}\n", self.pair, self.newest.0, self.text)
    }
}

/// A change of one pair's line.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum SearchChange {
    /// The pair's line is now this one, in the row of this place.
    Set(u64, SearchLine),
    /// The pair is the same as another one and has no line of its own, in the row of this place.
    Gone(u64, SubjectId),
}

impl SearchChange {
    fn slot(&self) -> u64 {
        match self {
            SearchChange::Set(slot, _) | SearchChange::Gone(slot, _) => *slot,
        }
    }

    fn pair(&self) -> SubjectId {
        match self {
            SearchChange::Set(_, line) => line.pair,
            SearchChange::Gone(_, pair) => *pair,
        }
    }
}

/// Writes changed lines into their rows.
pub(super) async fn write<T: KvTx>(tx: &T, changes: &[SearchChange]) -> Result<(), KvError> {
    let mut by_row: BTreeMap<String, Vec<&SearchChange>> = BTreeMap::new();
    for change in changes {
        by_row
            .entry(format!("{:08}", change.slot() / LINES))
            .or_default()
            .push(change);
    }
    let keys: Vec<_> = by_row.keys().cloned().collect();
    let rows = tx.get_many(SEARCH, &keys).await?;
    for ((key, changes), row) in by_row.into_iter().zip(rows) {
        let lines = row
            .as_ref()
            .and_then(Row::as_text)
            .into_iter()
            .flat_map(str::lines)
            .filter_map(SearchLine::parse);
        let mut lines: BTreeMap<_, _> = inserted(lines.map(|line| (line.pair, line)));
        for change in changes {
            match change {
                SearchChange::Set(_, line) => drop(lines.insert(line.pair, line.clone())),
                SearchChange::Gone(_, pair) => drop(lines.remove(pair)),
            }
        }
        let text: String = lines.values().map(SearchLine::write).collect();
        tx.put(SEARCH, Row::text(key, text));
    }
    Ok(())
}

/// The lines of every pair, in memory.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SearchIndex {
    lines: Vec<SearchLine>,
    edition: u64,
}

impl SearchIndex {
    /// Reads the rows of `search`, whose edition was this.
    pub(super) fn load(rows: &[Row], edition: u64) -> Self {
        let texts = rows.iter().filter_map(Row::as_text);
        Self {
            lines: texts.flat_map(str::lines).filter_map(SearchLine::parse).collect(),
            edition,
        }
    }

    /// Applies a committed transaction of this tab. Returns `false` if another tab has committed in between.
    pub(super) fn follow(&mut self, changes: &[SearchChange], before: u64, after: u64) -> bool {
        if self.edition != before {
            return false;
        }
        for change in changes {
            let place = self.lines.iter().position(|line| line.pair == change.pair());
            match (change, place) {
                (SearchChange::Set(_, line), Some(place)) => self.lines[place] = line.clone(),
                (SearchChange::Set(_, line), None) => self.lines.push(line.clone()),
                (SearchChange::Gone(..), Some(place)) => drop(self.lines.swap_remove(place)),
                (SearchChange::Gone(..), None) => {}
            }
        }
        self.edition = after;
        true
    }

    /// Whether the rows still have the edition that was loaded.
    pub(super) fn stands_at(&self, edition: u64) -> bool {
        self.edition == edition
    }

    /// The pairs whose line contains every word, newest job first. Without words: every pair.
    pub fn find(&self, words: &str) -> Vec<SubjectId> {
        let words = words.to_lowercase();
        let words: Vec<_> = words.split_whitespace().collect();
        let hits = self
            .lines
            .iter()
            .filter(|line| words.iter().all(|word| line.text.contains(word)));
        let mut hits: Vec<_> = hits
            .map(|line| (Reverse((line.newest, line.pair)), line.pair))
            .collect();
        hits.sort_unstable();
        hits.into_iter().map(|(_, pair)| pair).collect()
    }
}
