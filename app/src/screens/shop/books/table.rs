//! The table of the books.

use leptos::prelude::*;
use shared::log::body::Cause;
use shared::price::books::Sums;

use crate::card::in_words;
use crate::shop::Shop;

/// One row: what it is of, and its sums.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Row {
    pub(super) name: String,
    pub(super) sums: Sums,
}

/// What a column says of a row.
pub(super) enum Cell {
    /// Minor units of the shop's currency.
    Money(i64),
    /// A number as it is said.
    Plain(String),
    /// Nothing is known.
    Unknown,
}

/// A heading, and what stands under it in a row.
type Column = (&'static str, fn(&Sums) -> Cell);

/// The columns: heading, and what stands there. Those at the end are of months only.
pub(super) const COLUMNS: [Column; 13] = [
    ("Jobs", |sums| Cell::Plain(sums.jobs.to_string())),
    ("Charged", |sums| Cell::Money(sums.revenue_minor)),
    ("Tax", |sums| Cell::Money(sums.tax_minor)),
    ("Material", |sums| Cell::Money(sums.materials_minor)),
    ("Hours", |sums| Cell::Plain(hours(sums.minutes))),
    ("An hour earned", |sums| {
        sums.earned_per_hour_minor().map_or(Cell::Unknown, Cell::Money)
    }),
    ("No charge, needed", |sums| Cell::Money(sums.needed.worth_minor)),
    ("No charge, my choice", |sums| {
        Cell::Money(sums.choice.worth_minor)
    }),
    ("Made good", |sums| Cell::Plain(made_good(sums))),
    ("Deposits", |sums| Cell::Money(sums.deposits_minor)),
    ("Paid at pickup", |sums| Cell::Money(sums.balances_minor)),
    ("Given back", |sums| Cell::Money(sums.refunds_minor)),
    ("Still owed", |sums| Cell::Money(sums.unpaid_minor)),
];
/// Columns that rows of other things than months have.
const WITHOUT_MONEY: usize = 9;

fn hours(minutes: f64) -> String {
    format!("{:.1}", minutes / 60.0)
}

/// How many jobs made good earlier work, by why.
fn made_good(sums: &Sums) -> String {
    let said = sums.redone.iter().map(|(cause, redone)| {
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
    said.chain(again).collect::<Vec<_>>().join(", ")
}

/// The whole table; on a phone it is pushed sideways.
pub(super) fn rows_table(rows: &[Row], of_months: bool, shop: Shop) -> AnyView {
    let columns = &COLUMNS[..if of_months { COLUMNS.len() } else { WITHOUT_MONEY }];
    let heads = columns
        .iter()
        .map(|(head, _)| view! { <th scope="col">{*head}</th> })
        .collect_view();
    let cell = |value: Cell| match value {
        Cell::Money(minor) => amount(minor, shop),
        Cell::Plain(text) => text,
        Cell::Unknown => "–".to_owned(),
    };
    let lines = rows.iter().map(|row| {
        let cells = columns
            .iter()
            .map(|(_, of)| view! { <td>{cell(of(&row.sums))}</td> })
            .collect_view();
        view! { <tr><th scope="row">{called(row, of_months)}</th>{cells}</tr> }
    });
    let lines = lines.collect_view();
    view! {
        <div class="wide" tabindex="0" role="group" aria-label="Books">
            <table><thead><tr><td></td>{heads}</tr></thead><tbody>{lines}</tbody></table>
        </div>
    }
    .into_any()
}

/// An amount in a column; nothing reads better than many zeros.
fn amount(minor: i64, shop: Shop) -> String {
    if minor == 0 {
        String::new()
    } else {
        shop.money(minor)
    }
}

/// What a row is of, in words.
fn called(row: &Row, of_months: bool) -> String {
    let first_day = [&row.name, "-01"].concat();
    let words = in_words(&first_day);
    match words.split_once(' ') {
        Some((_, month)) if of_months => month.to_owned(),
        _ => row.name.clone(),
    }
}
