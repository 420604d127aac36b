//! The books as a file: RFC 4180, amounts in whole units with a point.

use shared::price::currency::Currency;

use super::table::{COLUMNS, Cell, Row};

/// Every column of every row, and the currency.
pub(super) fn text(rows: &[Row], currency: &str) -> String {
    let money = Currency::of(currency).unwrap_or_default();
    let mut all = String::from("Of");
    for (head, _) in COLUMNS {
        all.push(',');
        all.push_str(&field(head));
    }
    all.push_str(",Currency\r\n");
    for row in rows {
        all.push_str(&field(&row.name));
        for (_, of) in COLUMNS {
            all.push(',');
            match of(&row.sums) {
                Cell::Money(minor) => all.push_str(&money.format(minor)),
                Cell::Plain(text) => all.push_str(&field(&text)),
                Cell::Unknown => {}
            }
        }
        all.push(',');
        all.push_str(&field(currency));
        all.push_str("\r\n");
    }
    all
}

/// A field in quotes where it needs them. What a spreadsheet would take for a formula is kept from being one.
fn field(text: &str) -> String {
    let safe = if text.starts_with(['=', '+', '-', '@', '\t', '\r']) {
        ["'", text].concat()
    } else {
        text.to_owned()
    };
    if safe.contains([',', '"', '\n', '\r']) {
        ["\"", &safe.replace('"', "\"\""), "\""].concat()
    } else {
        safe
    }
}
