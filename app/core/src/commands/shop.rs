//! Changing the shop's prices, people and settings.

use serde_json::Value;
use shared::log::Subject;
use shared::log::body::{Body, Detail, Person, field};
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

/// Whether the shop may change its currency. Amounts are stored in minor units without a currency, so once there is a
/// price (`priced`: a pair was taken in, or the price list has one), another currency would make every amount another. A
/// shop that has set none may still name one with as many decimals.
pub fn may_change_currency(from: Currency, to: Currency, priced: bool) -> bool {
    let names_it = from.code().is_empty() && from.decimals() == to.decimals();
    !priced || from == to || names_it
}

/// Whether the price list has a price of the shop's own.
pub fn has_own_price(shop: &ShopState) -> bool {
    shop.details.iter().any(|(name, _)| field::is_price(name))
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_currency_is_fixed_once_there_is_a_price() {
        let of = |code: &str| Currency::of(code).expect("of ISO 4217");
        let unset = Currency::default();
        assert!(may_change_currency(of("EUR"), of("JPY"), false), "no price yet");
        assert!(!may_change_currency(of("EUR"), of("CHF"), true));
        assert!(may_change_currency(of("EUR"), of("EUR"), true));
        assert!(
            may_change_currency(unset, of("EUR"), true),
            "it only gets its name"
        );
        assert!(!may_change_currency(unset, of("JPY"), true), "no decimals");
        assert!(!may_change_currency(of("EUR"), unset, true));
    }
}
