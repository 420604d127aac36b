//! The books as a file: RFC 4180, amounts in whole units with a decimal point.

use super::BooksRow;
use super::cells::{Cell, columns};
use crate::csv::field;
use crate::price::currency::Currency;

/// Every column of every row, and the currency.
pub(super) fn text(rows: &[BooksRow], money: Currency) -> String {
    let columns = columns();
    let mut all = field(words::analytics::head_of_rows());
    for (head, _) in columns {
        all.push(',');
        all.push_str(&field(head));
    }
    all.push(',');
    all.push_str(&field(words::analytics::head_currency()));
    all.push_str("\r\n");
    for row in rows {
        all.push_str(&field(&row.key));
        for (_, of) in columns {
            all.push(',');
            match of(&row.sums) {
                Cell::Money(minor) => all.push_str(&money.format(minor)),
                Cell::Plain(text) => all.push_str(&field(&text)),
                Cell::Unknown => {}
            }
        }
        all.push(',');
        all.push_str(&field(money.code()));
        all.push_str("\r\n");
    }
    all
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn amounts_have_the_decimals_of_their_currency() {
        let row = |minor: i64| BooksRow {
            key: "2026-11".to_owned(),
            name: String::new(),
            sums: crate::price::books::Sums {
                revenue: crate::price::minor::Minor(minor),
                ..Default::default()
            },
        };
        let charged = |code: &str| {
            let all = text(&[row(1_500)], Currency::of(code).unwrap_or_default());
            all.lines().nth(1).unwrap().split(',').nth(2).unwrap().to_owned()
        };
        assert_eq!(
            [charged("EUR"), charged("JPY"), charged("KWD")],
            ["15.00", "1500", "1.500"]
        );
    }
}
