//! Search over every pair the shop ever had, over every ticket on which goods were sold, and over the customers whom no
//! pair names: lines of text, many packed into each row, searched in memory.
//!
//! Rows of `search` have up to 256 lines each, so that the text of 20,000 pairs is loaded in 80 rows. A pair or ticket
//! keeps the place it was first given. The row of a customer follows from the customer's id.

use std::cmp::Reverse;
use std::collections::{BTreeMap, BTreeSet};

use shared::log::fold::Summary;
use shared::log::fold::summary::LOGGED_FROM;
use shared::log::{SubjectId, UnixMs, inserted};

use super::kv::{KeyRange, KvError, KvTx, Row};
use super::tables::SEARCH;

/// The most bytes of the text of a ticket's or a customer's search line.
const SEARCH_TEXT: usize = 300;

/// Lines in one row.
const LINES: u64 = 256;
/// Begins the text of a ticket. An older app takes the line for that of a pair that it does not know, and keeps it.
const TICKET: char = '\u{1d}';
/// Begins the text of a customer, with the same effect in an older app.
const CUSTOMER: char = '\u{1c}';
/// Begins the keys of the rows of customers.
const CUSTOMER_ROWS: &str = "customers/";
/// The range of those keys.
const CUSTOMER_KEYS: KeyRange<'static> = KeyRange {
    first: CUSTOMER_ROWS,
    last: "customers/~",
};

/// The searchable text of one pair, of one ticket on which goods were sold, or of one customer whom no pair names.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct SearchLine {
    /// The pair, the ticket or the customer.
    id: SubjectId,
    /// When its newest job was opened, goods were last sold, or something was last said of the customer.
    newest: UnixMs,
    text: String,
}

impl SearchLine {
    pub(super) fn of(summary: &Summary) -> Self {
        Self {
            id: summary.id,
            newest: summary.jobs.first().map_or(UnixMs(0), |job| job.opened_at),
            text: summary.search_text().replace(['\t', TICKET, CUSTOMER], " "),
        }
    }

    /// The line of a ticket on which goods were sold: when the last of them were, and the text to find it by, on one
    /// line.
    pub(super) fn of_ticket(ticket: SubjectId, newest: UnixMs, text: &str) -> Self {
        Self {
            id: ticket,
            newest,
            text: format!("{TICKET}{}", text.to_lowercase()),
        }
    }

    /// The line of a customer: when something was last said of them, and the text to find them by, on one line.
    pub(super) fn of_customer(customer: SubjectId, newest: UnixMs, text: &str) -> Self {
        Self {
            id: customer,
            newest,
            text: format!("{CUSTOMER}{}", text.to_lowercase()),
        }
    }

    fn parse(line: &str) -> Option<Self> {
        let mut parts = line.splitn(3, '\t');
        let (id, newest, text) = (parts.next()?, parts.next()?, parts.next()?);
        Some(Self {
            id: id.parse().ok()?,
            newest: UnixMs(newest.parse().ok()?),
            text: text.to_owned(),
        })
    }

    fn write(&self) -> String {
        format!("{}\t{}\t{}\n", self.id, self.newest.0, self.text)
    }

    fn is_of_ticket(&self) -> bool {
        self.text.starts_with(TICKET)
    }

    fn is_of_customer(&self) -> bool {
        self.text.starts_with(CUSTOMER)
    }

    fn is_of_pair(&self) -> bool {
        !self.is_of_ticket() && !self.is_of_customer()
    }

    /// Whether every word is in the text.
    fn has(&self, words: &[&str]) -> bool {
        words.iter().all(|word| self.text.contains(word))
    }

    /// Whether every word is in the part of the text that tells one pair from another.
    fn tells(&self, words: &[&str]) -> bool {
        let (tells, _) = self
            .text
            .split_once(LOGGED_FROM)
            .unwrap_or((self.text.as_str(), ""));
        words.iter().all(|word| tells.contains(word))
    }
}

/// A change of one line.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum SearchChange {
    /// The line is now this one, in the row of this place.
    Set(u64, SearchLine),
    /// The pair is the same as another one, or nothing is sold on the ticket any more: it has no line, in the row of this
    /// place.
    Gone(u64, SubjectId),
    /// The line of a customer is now this one.
    SetCustomer(SearchLine),
    /// The customer has no line any more.
    GoneCustomer(SubjectId),
}

impl SearchChange {
    /// The key of the row in which the line is.
    fn row(&self) -> String {
        match self {
            SearchChange::Set(slot, _) | SearchChange::Gone(slot, _) => format!("{:08}", slot / LINES),
            SearchChange::SetCustomer(line) => customer_row(line.id),
            SearchChange::GoneCustomer(id) => customer_row(*id),
        }
    }

    fn id(&self) -> SubjectId {
        match self {
            SearchChange::Set(_, line) | SearchChange::SetCustomer(line) => line.id,
            SearchChange::Gone(_, id) | SearchChange::GoneCustomer(id) => *id,
        }
    }

    /// The line as it is now; `None` if there is none any more.
    fn line(&self) -> Option<&SearchLine> {
        match self {
            SearchChange::Set(_, line) | SearchChange::SetCustomer(line) => Some(line),
            SearchChange::Gone(..) | SearchChange::GoneCustomer(_) => None,
        }
    }
}

/// The key of the row with the line of a customer: one of 256, by the last byte of the id, which is random.
fn customer_row(customer: SubjectId) -> String {
    let [.., last] = customer.0.into_bytes();
    format!("{CUSTOMER_ROWS}{last:02x}")
}

/// The lines that these customers have.
pub(super) async fn customer_lines<T: KvTx>(
    tx: &T,
    customers: &BTreeSet<SubjectId>,
) -> Result<BTreeMap<SubjectId, SearchLine>, KvError> {
    if customers.is_empty() || tx.count_within(SEARCH, CUSTOMER_KEYS).await? == 0 {
        return Ok(BTreeMap::new());
    }
    let keys: BTreeSet<String> = inserted(customers.iter().map(|id| customer_row(*id)));
    let keys: Vec<_> = keys.into_iter().collect();
    let rows = tx.get_many(SEARCH, &keys).await?;
    let lines = rows
        .iter()
        .flatten()
        .filter_map(Row::as_text)
        .flat_map(str::lines);
    let lines = lines.filter_map(SearchLine::parse);
    let theirs = lines.filter(|line| line.is_of_customer() && customers.contains(&line.id));
    Ok(inserted(theirs.map(|line| (line.id, line))))
}

/// Writes changed lines into their rows.
pub(super) async fn write<T: KvTx>(tx: &T, changes: &[SearchChange]) -> Result<(), KvError> {
    let mut by_row: BTreeMap<String, Vec<&SearchChange>> = BTreeMap::new();
    for change in changes {
        by_row.entry(change.row()).or_default().push(change);
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
        let mut lines: BTreeMap<_, _> = inserted(lines.map(|line| (line.id, line)));
        for change in changes {
            match change.line() {
                Some(line) => drop(lines.insert(line.id, line.clone())),
                None => drop(lines.remove(&change.id())),
            }
        }
        let text: String = lines.values().map(SearchLine::write).collect();
        tx.put(SEARCH, Row::text(key, text));
    }
    Ok(())
}

/// The lines of every pair, ticket and customer, in memory.
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
            let place = self.lines.iter().position(|line| line.id == change.id());
            match (change.line(), place) {
                (Some(line), Some(place)) => self.lines[place] = line.clone(),
                (Some(line), None) => self.lines.push(line.clone()),
                (None, Some(place)) => drop(self.lines.swap_remove(place)),
                (None, None) => {}
            }
        }
        self.edition = after;
        true
    }

    /// Whether the rows still have the edition that was loaded.
    pub(super) fn stands_at(&self, edition: u64) -> bool {
        self.edition == edition
    }

    /// The pairs of which every word is in what tells one from another (number, name, customer, remarks), newest job
    /// first. Without words: every pair.
    pub fn find(&self, words: &str) -> Vec<SubjectId> {
        self.in_order(words, |line, words| {
            (line.is_of_pair() && line.tells(words)).then_some(0)
        })
    }

    /// The pairs of which every word is in their whole text: first those of [`find`](Self::find), then those of which
    /// some words are only in what was logged; each newest job first. Without words: every pair.
    pub fn find_logged(&self, words: &str) -> Vec<SubjectId> {
        self.in_order(words, |line, words| {
            let found = line.is_of_pair() && line.has(words);
            found.then(|| u8::from(!line.tells(words)))
        })
    }

    /// The tickets on which goods were sold of which every word is in the text; what was sold last comes first.
    pub fn find_tickets(&self, words: &str) -> Vec<SubjectId> {
        self.in_order(words, |line, words| {
            (line.is_of_ticket() && line.has(words)).then_some(0)
        })
    }

    /// The customers whom no pair names of whom every word is in the text; the one of whom something was said last comes
    /// first.
    pub fn find_customers(&self, words: &str) -> Vec<SubjectId> {
        self.in_order(words, |line, words| {
            (line.is_of_customer() && line.has(words)).then_some(0)
        })
    }

    /// The pairs, tickets or customers for whose line `place` gives a number when it is asked for the words: in the order of those
    /// numbers, of one number the newest first.
    fn in_order(&self, words: &str, place: impl Fn(&SearchLine, &[&str]) -> Option<u8>) -> Vec<SubjectId> {
        let words = words.to_lowercase();
        let words: Vec<_> = words.split_whitespace().collect();
        let hits = self.lines.iter();
        let hits = hits.filter_map(|line| {
            let place = place(line, &words)?;
            Some(((place, Reverse((line.newest, line.id))), line.id))
        });
        let mut hits: Vec<_> = hits.collect();
        hits.sort_unstable();
        hits.into_iter().map(|(_, id)| id).collect()
    }
}

/// These words with spaces between them, up to [`SEARCH_TEXT`]. The first that has no room ends it.
pub(super) fn search_text<'a>(words: impl Iterator<Item = &'a str>) -> String {
    let mut text = String::new();
    for word in words {
        if text.len() + word.len() >= SEARCH_TEXT {
            break;
        }
        if !text.is_empty() {
            text.push(' ');
        }
        text.push_str(word);
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;
    use uuid::Uuid;

    fn id(n: u128) -> SubjectId {
        SubjectId(Uuid::from_u128(n))
    }

    fn pair(n: u128, tells: &str, logged: &str) -> SearchLine {
        SearchLine {
            id: id(n),
            newest: UnixMs(i64::try_from(n).unwrap()),
            text: format!("{tells}{LOGGED_FROM}{logged}"),
        }
    }

    #[test]
    fn what_was_logged_is_found_after_what_tells_pairs_apart_and_never_for_a_name() {
        let lines = vec![
            pair(1, "derby lea example", "half soles"),
            pair(2, "boot ben example", "half soles leather"),
            SearchLine::of_ticket(id(3), UnixMs(3), "Lea Example Laces"),
            SearchLine::of_customer(id(4), UnixMs(4), "Lea Example"),
        ];
        let index = SearchIndex { lines, edition: 1 };
        assert_eq!(index.find("lea"), [id(1)]);
        assert_eq!(
            index.find_logged("LEA"),
            [id(1), id(2)],
            "the name goes before the newer pair"
        );
        assert_eq!(index.find_logged("ben soles"), [id(2)]);
        assert_eq!(index.find_logged(""), [id(2), id(1)]);
        assert_eq!(index.find_tickets("lea laces"), [id(3)]);
        assert!(index.find_tickets("soles").is_empty());
        assert_eq!(index.find_customers("lea"), [id(4)]);
    }

    #[test]
    fn a_line_is_read_as_it_was_written() {
        for line in [
            pair(1, "derby", "soles"),
            SearchLine::of_ticket(id(2), UnixMs(9), "Ada Laces"),
            SearchLine::of_customer(id(3), UnixMs(9), "Ada"),
        ] {
            assert_eq!(SearchLine::parse(line.write().trim_end_matches('\n')), Some(line));
        }
    }
}
