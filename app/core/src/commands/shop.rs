//! What the shop says of itself: its prices, its people, its settings.

use serde_json::Value;
use shared::log::Subject;
use shared::log::body::{Body, Detail, Person};
use shared::log::fold::{Details, ShopState};
use shared::price::currency::Currency;
use shared::price::format_minor;

use shared::log::Draft;

/// Sets a plain field to any value, replacing the values this device knows of. `None` when nothing would change.
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

/// Writes somebody down, in place of what was known of them.
pub fn person(shop: Subject, state: &ShopState, person: Person) -> Draft {
    let former = state
        .people
        .iter()
        .filter(|item| item.body.person == person.person);
    let over = former.map(|item| item.entry).collect();
    Draft::new(shop, Body::Person(person)).over(over)
}

/// An amount of minor units with the shop's currency.
pub fn money(shop: &ShopState, minor: i64) -> String {
    let Some(currency) = shop.currency() else {
        return Currency::default().words(minor);
    };
    match Currency::of(currency) {
        Some(known) => known.words(minor),
        // A word from before codes were asked for.
        None => [&format_minor(minor), "\u{a0}", currency].concat(),
    }
}
