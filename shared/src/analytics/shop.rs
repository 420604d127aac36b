//! The settings of the shop that analytics needs.

use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};

use crate::log::body::field;
use crate::log::entry::PersonId;
use crate::log::fold::ShopState;
use crate::price::currency::Currency;
use crate::price::materials::{Stock, stock};
use crate::price::minor::Minor;
use crate::price::profitability::Setting;
use crate::shelf::{Materials, shelf_fields};
use crate::trade::{Component, Construction};

/// The plain fields that analytics reads.
const FIELDS: [&str; 8] = [
    field::HOURLY_TARGET,
    field::TAX,
    field::CURRENCY,
    field::CLOSED,
    field::COUNTER_SHARE,
    field::HANDS,
    field::TIME_ZONE,
    field::KEPT_SHARE,
];
/// The prefixes of the other fields it reads: materials, the repairer's own estimates, opening hours, cements.
const BEGIN: [&str; 5] = ["stock/", "of_ten/", "hours/", "cement/", "cement_way/"];

/// The settings of the shop, small enough to be sent with a question.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
pub struct ShopSettings {
    /// Plain fields by name.
    fields: Map<String, Value>,
    /// The people who work there, with their names.
    people: Vec<(PersonId, String)>,
}

impl ShopSettings {
    /// The settings in the shop's state.
    pub fn of(shop: &ShopState) -> Self {
        let wanted = |name: &str| FIELDS.contains(&name) || BEGIN.iter().any(|begin| name.starts_with(begin));
        let fields = shop.details.iter().filter(|(name, _)| wanted(name));
        let people = shop
            .people
            .iter()
            .map(|item| (item.body.person, item.body.name.clone()));
        let mut known = Self {
            people: people.collect(),
            ..Self::default()
        };
        for (name, slot) in fields {
            known.fields.insert(name.to_owned(), slot.current.body.clone());
        }
        known
    }

    /// These settings with what the materials of the shelf cost. `shop` is the state that they were made from.
    #[must_use]
    pub fn with_shelf(mut self, shop: &ShopState, materials: &Materials) -> Self {
        if !materials.is_empty() {
            for (name, value) in shelf_fields(shop, materials) {
                self.fields.insert(name, value);
            }
        }
        self
    }

    /// A state with these settings and nothing else.
    pub(super) fn state(&self) -> ShopState {
        ShopState::of_values(&self.fields)
    }

    /// The name of a person.
    pub(super) fn name_of(&self, person: PersonId) -> Option<&str> {
        let named = self.people.iter().rev().find(|(known, _)| *known == person)?;
        Some(&named.1)
    }
}

/// An amount of minor units with the shop's currency.
pub(super) fn money(shop: &ShopState, minor: Minor) -> String {
    Currency::of(shop.currency().unwrap_or_default())
        .unwrap_or_default()
        .words(minor)
}

/// Calls `ask` with the settings for profitability.
pub(super) fn with_setting<T>(shop: &ShopState, ask: impl FnOnce(&Setting<'_>) -> T) -> T {
    let stock = |code: &str| -> Vec<Stock> { stock(shop, code) };
    let stated_rates =
        |code: &str, guessed: Option<&Construction>, part: &Component| of_ten(shop, code, guessed, part);
    ask(&Setting {
        target: shop.hourly_target(),
        tax: shop.tax(),
        stock: &stock,
        stated_rates: &stated_rates,
    })
}

/// The repairer's own estimate: in how many of ten such pairs this part is damaged.
pub fn of_ten(shop: &ShopState, code: &str, guessed: Option<&Construction>, part: &Component) -> Option<f64> {
    let guessed = guessed.map_or("", Construction::as_str);
    let pairs = shop
        .details
        .value(&field::of_ten(code, guessed, part.as_str()))?
        .as_f64()?;
    (0.0..=10.0).contains(&pairs).then_some(pairs)
}
