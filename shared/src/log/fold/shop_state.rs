//! The state of the shop.

use serde_json::{Map, Value};
use words::Language;

use super::details::Details;
use super::item::Item;
use super::standing::list;
use crate::log::body::{Person, field};
use crate::log::received::ReceivedEntry;
use crate::log::supersession::Supersession;
use crate::price::currency::Currency;
use crate::price::minor::Minor;

/// Everything the shop's standing entries say.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct ShopState {
    /// Its plain fields.
    pub details: Details,
    /// The people who work here or have worked here.
    pub people: Vec<Item<Person>>,
}

impl ShopState {
    /// Folds the entries of one shop, or of several that are the same. Any order; no two of one id.
    pub fn of<'a>(entries: impl IntoIterator<Item = &'a ReceivedEntry>) -> Self {
        Self::of_standing(&Supersession::of(entries))
    }

    /// Folds the standing entries. Apart from `of`, which is compiled anew for every type of iterator it is given.
    fn of_standing(standing: &Supersession<'_>) -> Self {
        Self {
            details: Details::of(standing),
            people: list(standing),
        }
    }

    /// A state with these plain fields and nothing else, which no entry has set.
    pub fn of_values(values: &Map<String, Value>) -> Self {
        Self {
            details: Details::of_values(values),
            ..Self::default()
        }
    }

    /// The name.
    pub fn name(&self) -> Option<&str> {
        self.details.text(field::NAME)
    }

    /// A telephone number.
    pub fn phone(&self) -> Option<&str> {
        self.details.text(field::PHONE)
    }

    /// The terms of guarantee printed on the card.
    pub fn terms(&self) -> Option<&str> {
        self.details.text(field::TERMS)
    }

    /// The currency, ISO 4217.
    pub fn currency(&self) -> Option<&str> {
        self.details.text(field::CURRENCY)
    }

    /// The currency in which amounts are read and written: a nameless one with two decimals where none is set, or one
    /// that is not known.
    pub fn money_kind(&self) -> Currency {
        self.currency().and_then(Currency::of).unwrap_or_default()
    }

    /// The language of the screens and of the care card; British English if none is set.
    pub fn language(&self) -> Language {
        self.details
            .text(field::LANGUAGE)
            .map(Language::of)
            .unwrap_or_default()
    }

    /// The unit of length: `mm` or `in`; `None` for millimetres.
    pub fn lengths(&self) -> Option<&str> {
        self.details.text(field::LENGTHS)
    }

    /// The time zone, a name of the IANA time zone database.
    pub fn time_zone(&self) -> Option<&str> {
        self.details.text(field::TIME_ZONE)
    }

    /// The lines of the shop's own final check; empty if it uses the usual one.
    pub fn final_check(&self) -> impl Iterator<Item = &str> {
        self.details.words(field::FINAL_CHECK)
    }

    /// The lengths of the nails in stock, in millimetres; empty for the usual ones.
    pub fn nail_lengths(&self) -> impl Iterator<Item = f64> {
        self.details.list(field::NAIL_LENGTHS).filter_map(Value::as_f64)
    }

    /// The rate of tax, in thousandths. Positive if the prices include it, negative if it is added to them; `None` for
    /// no tax.
    pub fn tax(&self) -> Option<i64> {
        self.details.number(field::TAX).filter(|rate| *rate != 0)
    }

    /// The shop's own price of an operation on a kind of goods, in minor units.
    pub fn price(&self, operation: &str, goods: &str) -> Option<Minor> {
        self.amount(&field::price(operation, goods))
    }

    /// The shop's own price of an operation in one of its variants, in minor units.
    pub fn variant_price(&self, operation: &str, variant: &str, goods: &str) -> Option<Minor> {
        self.amount(&field::variant_price(operation, variant, goods))
    }

    /// The shop's own price of an operation on one shoe of a pair, in minor units.
    pub fn one_shoe_price(&self, operation: &str, goods: &str) -> Option<Minor> {
        self.amount(&field::one_shoe_price(operation, goods))
    }

    /// The shop's own price of a package, in minor units.
    pub fn package_price(&self, package: &str, goods: &str) -> Option<Minor> {
        self.amount(&field::package_price(package, goods))
    }

    /// The amount in a plain field, in minor units.
    pub fn amount(&self, field: &str) -> Option<Minor> {
        self.details.number(field).map(Minor)
    }

    /// What an hour of attended work should earn, without tax, in minor units; `None` where the shop has set no target.
    pub fn hourly_target(&self) -> Option<Minor> {
        self.details
            .number(field::HOURLY_TARGET)
            .map(Minor)
            .filter(|target| target.is_positive())
    }
}
