//! The books as a table, a file and bars.

mod cells;
mod csv;

use serde::{Deserialize, Serialize};

use super::ledger::PairLedger;
use super::questions::{By, TheBooks};
use super::shop::{ShopSettings, money};
use crate::log::fold::ShopState;
use crate::price::books::{Books, GOODS_SOLD, Sums};
use crate::price::currency::Currency;
use crate::price::minor::Minor;
use crate::trade::formulas::day::Day;
use crate::trade::operations;
use cells::{WITHOUT_MONEY, columns};

/// A row of the table.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct BooksTableRow {
    /// What the row is of.
    pub name: String,
    /// One text for each column.
    pub cells: Vec<String>,
    /// The price charged, needed work at no charge, and work at no charge by choice, in minor units.
    pub bars: [Minor; 3],
}

/// The books of some months.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct BooksTable {
    /// The heading of each column.
    pub heads: Vec<String>,
    /// The rows.
    pub rows: Vec<BooksTableRow>,
    /// The greatest bar in words; empty if there is no bar.
    pub most: String,
    /// Deposits for pairs that are still in the shop, in words; empty if there are none.
    pub held: String,
    /// How many jobs and payments have an implausible day.
    pub undated: u32,
    /// The whole table as a file for a spreadsheet (RFC 4180).
    pub csv: String,
}

/// A row before it is put into words.
pub(super) struct BooksRow {
    /// What the row is of, as the file names it.
    pub(super) key: String,
    /// What the row is of, as the table names it.
    pub(super) name: String,
    pub(super) sums: Sums,
}

/// The books in words.
pub(super) fn in_words(asked: &TheBooks, ledger: &PairLedger) -> BooksTable {
    let shop = asked.shop.state();
    let all = ledger.books(&shop);
    let rows = rows(asked, &all, ledger, &shop);
    let all_columns = columns();
    let columns = &all_columns[..if asked.by == By::Month {
        all_columns.len()
    } else {
        WITHOUT_MONEY
    }];
    let bars = |sums: &Sums| [sums.revenue, sums.needed.worth, sums.choice.worth];
    let most = rows
        .iter()
        .flat_map(|row| bars(&row.sums))
        .fold(Minor::ZERO, Minor::max);
    let amount = |minor: Minor| {
        if minor.is_positive() {
            money(&shop, minor)
        } else {
            String::new()
        }
    };
    let currency = Currency::of(shop.currency().unwrap_or_default()).unwrap_or_default();
    BooksTable {
        heads: columns.iter().map(|(head, _)| (*head).to_owned()).collect(),
        most: amount(most),
        held: amount(all.held),
        undated: all.undated,
        csv: csv::text(&rows, currency),
        rows: rows
            .into_iter()
            .map(|row| BooksTableRow {
                cells: columns.iter().map(|(_, of)| of(&row.sums).words(&shop)).collect(),
                bars: bars(&row.sums),
                name: row.name,
            })
            .collect(),
    }
}

fn rows(asked: &TheBooks, all: &Books, ledger: &PairLedger, shop: &ShopState) -> Vec<BooksRow> {
    if asked.by == By::Month {
        return asked
            .months
            .iter()
            .rev()
            .filter_map(|word| month(word, all))
            .collect();
    }
    let of_year = ledger.books_of(shop, &asked.months);
    let row = |name: &str, sums: &Sums| BooksRow {
        key: name.to_owned(),
        name: name.to_owned(),
        sums: sums.clone(),
    };
    match asked.by {
        By::Operation => {
            let all = of_year.operations.iter();
            all.map(|(code, sums)| row(operation_name(code), sums)).collect()
        }
        By::Construction => {
            let all = of_year.constructions.iter();
            let unknown = words::analytics::construction_not_known();
            all.map(|(kind, sums)| row(kind.as_ref().map_or(unknown, |kind| kind.words()), sums))
                .collect()
        }
        By::Person | By::Month => {
            let all = of_year.people.iter();
            all.map(|(person, sums)| row(named(&asked.shop, *person), sums))
                .collect()
        }
    }
}

fn operation_name(code: &str) -> &str {
    if code == GOODS_SOLD {
        words::analytics::sundries()
    } else {
        operations::name(code)
    }
}

fn named(shop: &ShopSettings, person: Option<crate::log::entry::PersonId>) -> &str {
    person
        .and_then(|person| shop.name_of(person))
        .unwrap_or(words::analytics::nobody_named())
}

/// The row of a month; all zeros for a month without work.
fn month(word: &str, all: &Books) -> Option<BooksRow> {
    let key = (word.get(..4)?.parse().ok()?, word.get(5..)?.parse().ok()?);
    // A month that does not exist has no row.
    Day::of(key.0, key.1, 1)?;
    Some(BooksRow {
        key: word.to_owned(),
        name: words::time::month_and_year(key.0, key.1),
        sums: all.months.get(&key).cloned().unwrap_or_default(),
    })
}
