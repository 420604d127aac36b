//! A plain field with its value in words, where somebody decides whether to take it: prices as money, cements and
//! materials by their names.

use serde_json::{Map, Value};
use shared::log::body::Agreed;
use shared::log::body::field::{self, PriceIsFor};
use shared::log::fold::ShopState;
use shared::price::minor::Minor;
use shared::trade::cement_guide::{OwnCement, OwnCements, OwnWay, cement_field, cement_way_field};
use shared::trade::{CementKind, Goods, Material, line_name, operations, package};
use words::shop::kept_aside as said;

use crate::commands::money;

/// The field and its value in words; `None` for a field that is shown under its own name. `shop` has the currency.
#[must_use]
pub fn field_words(name: &str, value: &Value, shop: &ShopState) -> Option<String> {
    price(name, value, shop)
        .or_else(|| cement(name, value))
        .or_else(|| materials(name, value))
}

/// A price of the price list; one that was taken off it has no amount.
fn price(name: &str, value: &Value, shop: &ShopState) -> Option<String> {
    let is_for = field::price_is_for(name)?;
    let amount = match value {
        Value::Null => said::no_price_of_its_own().to_owned(),
        amount => money(shop, Minor(amount.as_i64()?)),
    };
    let on = |goods: &str| Goods::from(goods).words().to_lowercase();
    Some(match is_for {
        PriceIsFor::Operation(operation, goods) => {
            said::price(operations::name(operation), &on(goods), &amount)
        }
        PriceIsFor::Variant(operation, variant, goods) => {
            let line = Agreed {
                variant: Some(variant.to_owned()),
                ..Agreed::at(operation, Minor::ZERO)
            };
            said::price(&line_name(&line), &on(goods), &amount)
        }
        PriceIsFor::OneShoe(operation, goods) => {
            said::price_of_one_shoe(operations::name(operation), &on(goods), &amount)
        }
        PriceIsFor::Package(code, goods) => {
            let called = match package(code) {
                Some(known) => known.name(),
                None => code,
            };
            said::price_of_package(called, &on(goods), &amount)
        }
        PriceIsFor::Piece(goods) => said::price_of_piece(goods, &amount),
    })
}

/// The shop's own product of a kind of cement, or its own way to glue one material on another.
fn cement(name: &str, value: &Value) -> Option<String> {
    let one = Map::from_iter([(name.to_owned(), value.clone())]);
    let own = OwnCements::of(&ShopState::of_values(&one));
    if let Some(kind) = CementKind::ALL
        .into_iter()
        .find(|kind| cement_field(*kind) == name)
    {
        return Some(said::cement_is(kind.words(), &product(own.product(kind))));
    }
    let (sole, upper) = name.strip_prefix("cement_way/")?.split_once('/')?;
    let (sole, upper) = (Material::from(sole), Material::from(upper));
    let is_way = cement_way_field(&sole, &upper) == name;
    let of = words::cement::way_of(sole.words(), &upper.words().to_lowercase());
    is_way.then(|| said::cement_is(&of, &way(own.way(&sole, &upper))))
}

/// What is said of a product; as the guide has it, if nothing is.
fn product(own: Option<&OwnCement>) -> String {
    let Some(own) = own else {
        return words::cement::as_the_guide().to_owned();
    };
    let all = [
        own.product.clone(),
        own.wait_min.map(said::cement_dries),
        own.open_min.map(said::cement_is_open),
        own.coats.map(words::cement::coats),
    ];
    after_each_other(all)
}

/// What is said of a way; as the guide has it, if nothing is.
fn way(own: Option<&OwnWay>) -> String {
    let Some(own) = own else {
        return words::cement::as_the_guide().to_owned();
    };
    let all = [
        own.kind.map(|kind| kind.words().to_owned()),
        own.prime.as_deref().map(said::primer_is),
        own.note.clone(),
    ];
    after_each_other(all)
}

fn after_each_other<const N: usize>(all: [Option<String>; N]) -> String {
    all.into_iter().flatten().collect::<Vec<_>>().join(", ")
}

/// What a pair is made of or lined with.
fn materials(name: &str, value: &Value) -> Option<String> {
    let listed: Vec<&str> = match value {
        Value::Null => Vec::new(),
        Value::Array(codes) => codes.iter().filter_map(Value::as_str).collect(),
        _ => return None,
    };
    let names: Vec<String> = listed
        .into_iter()
        .map(|code| Material::from(code).words().to_owned())
        .collect();
    let names = match names.as_slice() {
        [] => said::materials_not_stated().to_owned(),
        names => names.join(", "),
    };
    match name {
        field::MATERIALS => Some(said::made_of(&names)),
        field::LINING => Some(said::lined_with(&names)),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::commands::scene::shop;
    use serde_json::json;

    #[test]
    fn prices_are_words_with_their_money() {
        let in_euro = shop(&[(field::CURRENCY, json!("EUR"))]);
        let fifty = money(&in_euro, Minor(5_000));
        let heels = operations::name("top_piece_replacement");
        let boot = Goods::Boot.words().to_lowercase();
        for (name, words) in [
            (
                field::price("top_piece_replacement", "boot"),
                format!("Price of {heels}, {boot}: {fifty}"),
            ),
            (
                field::variant_price("top_piece_replacement", "leather", "boot"),
                format!("Price of {heels}, leather, {boot}: {fifty}"),
            ),
            (
                field::one_shoe_price("top_piece_replacement", "boot"),
                format!("Price of {heels} on one shoe, {boot}: {fifty}"),
            ),
            (
                field::package_price("half_soles_and_heels", "boot"),
                format!("Price of Half soles and heels together, {boot}: {fifty}"),
            ),
            (
                field::goods_price("laces"),
                format!("Price of laces, each: {fifty}"),
            ),
        ] {
            assert_eq!(field_words(&name, &json!(5_000), &in_euro), Some(words), "{name}");
            let taken_off = field_words(&name, &Value::Null, &in_euro).unwrap();
            assert!(taken_off.ends_with(said::no_price_of_its_own()), "{taken_off}");
        }
    }

    #[test]
    fn cements_and_materials_are_called_by_their_names() {
        let of = |name: &str, value: Value| field_words(name, &value, &ShopState::default());
        let grey = json!({ "product": "Grey tin", "wait_min": 12, "coats": 2 });
        let neoprene = CementKind::Neoprene.words();
        assert_eq!(
            of("cement/neoprene", grey),
            Some(format!("{neoprene}: Grey tin, dries 12 min, 2 coats"))
        );
        assert_eq!(
            of("cement/neoprene", Value::Null),
            Some(format!("{neoprene}: As the guide says"))
        );
        let way = json!({ "kind": "neoprene", "prime": "Soap", "note": "Slowly" });
        assert_eq!(
            of("cement_way/rubber_sole/suede", way),
            Some(format!(
                "Rubber sole on suede or nubuck: {neoprene}, primer: Soap, Slowly"
            ))
        );
        let lining = json!(["smooth_leather", "textile"]);
        let textile = Material::Textile.words();
        assert_eq!(
            of(field::LINING, lining.clone()),
            Some(format!("Lining: Smooth leather, {textile}"))
        );
        assert_eq!(
            of(field::MATERIALS, lining),
            Some(format!("Made of: Smooth leather, {textile}"))
        );
        assert_eq!(
            of(field::MATERIALS, json!([])),
            Some("Made of: not stated".to_owned())
        );
    }

    #[test]
    fn what_is_none_of_these_keeps_its_own_name() {
        let of = |name: &str, value: Value| field_words(name, &value, &ShopState::default());
        for (name, value) in [
            (field::NAME, json!("Rest")),
            ("cement/glue of tomorrow", json!({ "product": "Grey tin" })),
            ("price/half_sole/boot", json!("dear")),
            ("hours/1", json!([[540, 1_080]])),
        ] {
            assert_eq!(of(name, value), None, "{name}");
        }
    }
}
