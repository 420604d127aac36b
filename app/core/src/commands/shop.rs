//! What the shop says of itself: its prices, its people, its settings.

use serde_json::Value;
use shared::log::Subject;
use shared::log::body::{Body, Detail, Person, field};
use shared::log::fold::State;
use shared::price::currency::Currency;
use shared::price::format_minor;

use shared::log::Draft;

/// Sets a plain field to any value, replacing the values this device knows of. `None` when nothing would change.
pub fn set_value(subject: Subject, state: &State, field: &str, value: Value) -> Option<Draft> {
    if state.value(field) == Some(&value) {
        return None;
    }
    let body = Body::Detail(Detail {
        field: field.to_owned(),
        value,
    });
    Some(Draft::new(subject, body).over(state.over(field)))
}

/// Writes somebody down, in place of what was known of them.
pub fn person(shop: Subject, state: &State, person: Person) -> Draft {
    let former = state
        .people
        .iter()
        .filter(|item| item.body.person == person.person);
    let over = former.map(|item| item.entry).collect();
    Draft::new(shop, Body::Person(person)).over(over)
}

/// An amount of minor units with the shop's currency.
pub fn money(shop: &State, minor: i64) -> String {
    let currency = shop.text(field::CURRENCY);
    match Currency::of(currency) {
        Some(known) => known.words(minor),
        None if currency.is_empty() => Currency::default().words(minor),
        // A word from before codes were asked for.
        None => [&format_minor(minor), "\u{a0}", currency].concat(),
    }
}
