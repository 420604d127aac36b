//! Changing the shop's prices, people and settings.

use serde_json::Value;
use shared::log::Subject;
use shared::log::body::{Body, Detail, Person};
use shared::log::fold::{Details, ShopState};
use shared::price::currency::Currency;
use shared::price::minor::Minor;

use shared::log::Draft;

/// Sets a plain field to any value, replacing the values that this device knows. `None` if nothing would change.
pub fn set_value(subject: Subject, details: &Details, field: &str, value: Value) -> Option<Draft> {
    if details.value(field) == Some(&value) {
        return None;
    }
    let body = Body::Detail(Detail {
        field: field.to_owned(),
        value,
    });
    Some(Draft::new(subject, body).over(details.over(field)))
}

/// Records a person, replacing what was recorded of them.
pub fn person(shop: Subject, state: &ShopState, person: Person) -> Draft {
    let former = state
        .people
        .iter()
        .filter(|item| item.body.person == person.person);
    let over = former.map(|item| item.entry).collect();
    Draft::new(shop, Body::Person(person)).over(over)
}

/// An amount of minor units in the shop's currency.
pub fn money(shop: &ShopState, minor: Minor) -> String {
    let Some(currency) = shop.currency() else {
        return Currency::default().words(minor);
    };
    match Currency::of(currency) {
        Some(known) => known.words(minor),
        // A free text, from a version that did not ask for a currency code.
        None => [&Currency::default().format(minor), "\u{a0}", currency].concat(),
    }
}
