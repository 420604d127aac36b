//! The columns of the books.

use crate::analytics::shop::money;
use crate::log::body::Cause;
use crate::log::fold::ShopState;
use crate::price::books::Sums;
use crate::price::minor::Minor;

/// The value of a column in a row.
pub(super) enum Cell {
    /// Minor units of the shop's currency.
    Money(Minor),
    /// A text as it is shown.
    Plain(String),
    /// The value is not known.
    Unknown,
}

/// A heading, and the function that reads the value from a row.
type Column = (&'static str, fn(&Sums) -> Cell);

/// The columns. Those at the end are shown for months only.
pub(super) const COLUMNS: [Column; 13] = [
    ("Jobs", |sums| Cell::Plain(sums.jobs.to_string())),
    ("Charged", |sums| Cell::Money(sums.revenue)),
    ("Tax", |sums| Cell::Money(sums.tax)),
    ("Material", |sums| Cell::Money(sums.materials)),
    ("Hours", |sums| Cell::Plain(hours(sums.minutes))),
    ("An hour earned", |sums| {
        sums.earned_per_hour().map_or(Cell::Unknown, Cell::Money)
    }),
    ("No charge, needed", |sums| Cell::Money(sums.needed.worth)),
    ("No charge, my choice", |sums| Cell::Money(sums.choice.worth)),
    ("Made good", |sums| Cell::Plain(made_good(sums))),
    ("Deposits", |sums| Cell::Money(sums.deposits)),
    ("Paid at pickup", |sums| Cell::Money(sums.balances)),
    ("Given back", |sums| Cell::Money(sums.refunds)),
    ("Still owed", |sums| Cell::Money(sums.unpaid)),
];
/// How many columns are shown for rows of anything but months.
pub(super) const WITHOUT_MONEY: usize = 9;

fn hours(minutes: f64) -> String {
    format!("{:.1}", minutes / 60.0)
}

/// How many jobs repeated earlier work because of a complaint, by cause.
fn made_good(sums: &Sums) -> String {
    let causes = sums.redone.iter().map(|(cause, redone)| {
        let why = match cause {
            Some(Cause::OurWork) => "our work",
            Some(Cause::Material) => "material",
            Some(Cause::Wear) => "wear",
            Some(_) => "other",
            None => "not known",
        };
        format!("{} {why}", redone.jobs)
    });
    let again = (sums.steps_again > 0).then(|| format!("{} steps again", sums.steps_again));
    causes.chain(again).collect::<Vec<_>>().join(", ")
}

impl Cell {
    /// The cell as the table shows it: empty instead of zero, because that is easier to read.
    pub(super) fn words(self, shop: &ShopState) -> String {
        match self {
            Cell::Money(Minor::ZERO) => String::new(),
            Cell::Money(minor) => money(shop, minor),
            Cell::Plain(text) => text,
            Cell::Unknown => "\u{2013}".to_owned(),
        }
    }
}
