//! The prices of a file beside those of the shop's list.

use std::collections::BTreeSet;

use serde_json::Value;
use shared::log::fold::ShopState;
use shared::log::{Draft, Subject};
use shared::price::minor::Minor;

use super::super::shop::set_value;
use super::prices_table::{self, PriceCell};
use super::read::UnreadLine;

/// A price of a file that is not yet the shop's own.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ReadPrice {
    /// The line of the file, counted from 1.
    pub line: usize,
    /// The plain field of the shop that holds such a price.
    pub field: String,
    /// What it is the price of, in words.
    pub what: String,
    /// The price, in minor units.
    pub minor: Minor,
    /// The shop's own price before, in minor units; `None` if it had none.
    pub before: Option<Minor>,
}

/// What would be brought in of prices, and what would not be and why.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct PricesPreview {
    /// Prices that are new or changed, in the order of the file.
    pub new: Vec<ReadPrice>,
    /// How many prices are the shop's own already.
    pub same: usize,
    /// The lines, or single prices of a line, that were not understood.
    pub unread: Vec<UnreadLine>,
    /// The names of columns that were not understood.
    pub unknown: Vec<String>,
}

impl PricesPreview {
    /// The prices of a table with this text. Amounts are those of the shop's currency.
    pub fn of(text: &str, shop: &ShopState) -> Self {
        let table = prices_table::read(text, shop);
        let mut preview = Self {
            unread: table.unread,
            unknown: table.unknown,
            ..Self::default()
        };
        let mut met = BTreeSet::new();
        for PriceCell {
            line,
            field,
            what,
            typed,
        } in table.cells
        {
            let unread = |why| UnreadLine::new(line, &[what.as_str(), &typed].join(": "), why);
            let Some(minor) = shop.money_kind().parse_listed(&typed) else {
                preview.unread.push(unread(words::shop::bring::not_a_price()));
                continue;
            };
            if !met.insert(field.clone()) {
                preview
                    .unread
                    .push(unread(words::shop::bring::stands_there_twice()));
                continue;
            }
            let before = shop.amount(&field);
            if before == Some(minor) {
                preview.same += 1;
                continue;
            }
            preview.new.push(ReadPrice {
                line,
                field,
                what,
                minor,
                before,
            });
        }
        preview
    }

    /// The drafts for one save: each price that is not the shop's own already, in place of the ones it replaces.
    pub fn drafts(&self, subject: &Subject, shop: &ShopState) -> Vec<Draft> {
        let changed = self.new.iter().filter_map(|price| {
            let value = Value::from(price.minor.0);
            set_value(subject.clone(), &shop.details, &price.field, value)
        });
        changed.collect()
    }
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use super::*;
    use crate::commands::scene::shop;

    #[test]
    fn prices_of_another_currency_are_refused_and_own_work_is_taken() {
        let state = shop(&[("currency", json!("EUR"))]);
        let text = "price_for,code,goods,price,currency\n\
            operation,half_sole,boot,€40,EUR\n\
            operation,Bell repair,boot,41 €,eur\n\
            one_shoe,'=Bell,boot,EUR 42,\n\
            variant,Bell repair,boot,43,EUR\n\
            operation,half_sole,low_shoe,44,GBP\n";
        let preview = PricesPreview::of(text, &state);
        let read: Vec<_> = preview
            .new
            .iter()
            .map(|price| (price.field.as_str(), price.minor.0))
            .collect();
        assert_eq!(
            read,
            [
                ("price/half_sole/boot", 4000),
                ("price/Bell repair/boot", 4100),
                ("price_one/=Bell/boot", 4200),
            ]
        );
        let unread: Vec<_> = preview.unread.iter().map(|line| (line.line, line.why)).collect();
        assert_eq!(
            unread,
            [
                (5, words::shop::bring::no_such_work()),
                (6, words::shop::bring::in_another_currency()),
            ]
        );
    }
}
