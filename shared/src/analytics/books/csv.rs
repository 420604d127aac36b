//! The books as a file: RFC 4180, amounts in whole units with a decimal point.

use super::BooksRow;
use super::cells::{Cell, columns};
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

/// A field, quoted where necessary, and escaped where a spreadsheet would read it as a formula.
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

#[cfg(test)]
mod tests {
    use super::*;

    /// RFC 4180, 2.6 and 2.7: fields with commas or quotes are quoted, and quotes are doubled. A spreadsheet reads a
    /// text that begins with one of `=+-@` as a formula (OWASP, CSV injection).
    #[test]
    fn fields_are_kept_whole_and_are_no_formulas() {
        for (text, wanted) in [
            ("Half soles", "Half soles"),
            ("Sole, rubber", "\"Sole, rubber\""),
            ("12\" zip", "\"12\"\" zip\""),
            ("=1+1", "'=1+1"),
        ] {
            assert_eq!(field(text), wanted);
        }
    }

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
