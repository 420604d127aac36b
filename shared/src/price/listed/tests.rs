use super::*;
use crate::log::body::field;
use crate::trade::operations::operations;
use crate::trade::packages::{package, packages_for};
use crate::trade::prices::{norm, norm_one_shoe};
use proptest::prelude::*;
use serde_json::{Value, json};

const HEELS: &str = "top_piece_replacement";

fn shop(fields: &[(String, Value)]) -> ShopState {
    ShopState::of_values(&fields.iter().cloned().collect())
}

fn of(shop: &ShopState, goods: &Goods, operation: &str) -> Option<Minor> {
    listed(shop, goods.as_str(), LineSize::usual(operation))
}

fn in_variant<'a>(operation: &'a str, variant: &'a str) -> LineSize<'a> {
    LineSize {
        variant: Some(variant),
        ..LineSize::usual(operation)
    }
}

fn left(line: LineSize<'_>) -> LineSize<'_> {
    LineSize {
        side: &Side::Left,
        ..line
    }
}

#[test]
fn a_shop_without_prices_has_the_norms() {
    let none = ShopState::default();
    for known in operations() {
        for goods in Goods::KNOWN {
            assert_eq!(
                of(&none, goods, known.code),
                norm(known.code, goods),
                "{}",
                known.code
            );
            for variant in known.variants {
                let line = in_variant(known.code, variant.code);
                assert_eq!(
                    listed(&none, goods.as_str(), line),
                    norm_of(known.code, goods, Some(variant.code)),
                    "{}",
                    known.code
                );
                if known.priced == Priced::Pair && goods.is_any_of(Class::FOOTWEAR) {
                    assert_eq!(
                        listed(&none, goods.as_str(), left(line)),
                        norm_one_shoe(known.code, goods, Some(variant.code)),
                        "{}",
                        known.code
                    );
                }
            }
        }
    }
    assert_eq!(of(&none, &Goods::LowShoe, "bell repair"), None);
    let unstated = listed(&none, "", LineSize::usual("half_sole"));
    assert_eq!(
        unstated,
        norm("half_sole", &Goods::LowShoe),
        "nobody said what it is"
    );
}

#[test]
fn the_shops_own_price_wins_and_its_variants_follow() {
    let own = shop(&[(field::price(HEELS, "low_shoe"), json!(1_800))]);
    let heels = |variant| listed(&own, "low_shoe", in_variant(HEELS, variant));
    assert_eq!(of(&own, &Goods::LowShoe, HEELS), Some(Minor(1_800)));
    assert_eq!(heels("rubber"), Some(Minor(1_800)));
    assert_eq!(
        heels("leather"),
        Some(Minor(2_300)),
        "125 % of 18 are 22.50, rounded"
    );
    assert_eq!(
        heels("brass"),
        Some(Minor(1_800)),
        "the shop's own word changes nothing"
    );
    assert_eq!(
        of(&own, &Goods::Boot, HEELS),
        norm(HEELS, &Goods::Boot),
        "on other goods the norm"
    );

    let leather = shop(&[
        (field::price(HEELS, "low_shoe"), json!(1_850)),
        (field::variant_price(HEELS, "leather", "low_shoe"), json!(3_000)),
    ]);
    let heels = |variant| listed(&leather, "low_shoe", in_variant(HEELS, variant));
    assert_eq!(heels("leather"), Some(Minor(3_000)));
    assert_eq!(
        heels("combination"),
        Some(Minor(2_405)),
        "130 % of 18.50, to the cent"
    );
}

#[test]
fn one_shoe_has_a_price_of_its_own() {
    let half = left(LineSize::usual("half_sole"));
    let own = shop(&[(field::price("half_sole", "low_shoe"), json!(4_050))]);
    assert_eq!(
        listed(&own, "low_shoe", half),
        Some(Minor(2_500)),
        "24.30, rounded up"
    );
    let set = shop(&[
        (field::price("half_sole", "low_shoe"), json!(4_000)),
        (field::one_shoe_price("half_sole", "low_shoe"), json!(2_200)),
    ]);
    assert_eq!(listed(&set, "low_shoe", half), Some(Minor(2_200)));
    let leather = left(in_variant("half_sole", "leather"));
    assert_eq!(
        listed(&set, "low_shoe", leather),
        Some(Minor(2_600)),
        "120 % of 22 are 26.40, rounded"
    );
    let belt = left(LineSize::usual("clean_condition_polish"));
    assert_eq!(
        listed(&set, "bag", belt),
        norm("clean_condition_polish", &Goods::Bag),
        "a bag is no pair"
    );
    let bells = shop(&[(field::price("bell repair", "boot"), json!(900))]);
    let bell = left(LineSize::usual("bell repair"));
    assert_eq!(
        listed(&bells, "boot", bell),
        Some(Minor(900)),
        "not known to be for both shoes"
    );
}

#[test]
fn pieces_are_counted() {
    let none = ShopState::default();
    let zips = |count, side| {
        listed(
            &none,
            "boot",
            LineSize {
                count,
                side,
                ..LineSize::usual("zip_replacement")
            },
        )
    };
    assert_eq!(zips(2, &Side::Both), Some(Minor(9_600)));
    assert_eq!(
        zips(2, &Side::Left),
        Some(Minor(9_600)),
        "each costs the same on one boot"
    );
    assert_eq!(zips(0, &Side::Both), Some(Minor(4_800)));
}

#[test]
fn a_currency_without_decimals_has_the_same_figures() {
    let yen = shop(&[
        (field::CURRENCY.to_owned(), json!("JPY")),
        (field::price("half_sole", "boot"), json!(4_555)),
    ]);
    assert_eq!(of(&yen, &Goods::LowShoe, "half_sole"), Some(Minor(38)));
    let boot = left(LineSize::usual("half_sole"));
    assert_eq!(listed(&yen, "boot", boot), Some(Minor(2_733)));
    let both = package("half_soles_and_heels").unwrap();
    let price = package_price(&yen, "low_shoe", both, &usual_lines(both));
    assert_eq!(price, Some(Minor(50)), "92 % of 38 and 16, in whole units");
}

#[test]
fn a_package_costs_less_and_its_lines_share_the_price() {
    let both = package("half_soles_and_heels").unwrap();
    let none = ShopState::default();
    let usual = usual_lines(both);
    assert_eq!(package_price(&none, "low_shoe", both, &usual), Some(Minor(5_000)));
    assert_eq!(
        package_prices(&none, "low_shoe", both, &usual),
        Some(vec![Minor(3_500), Minor(1_500)])
    );
    let own = shop(&[(
        field::package_price("half_soles_and_heels", "low_shoe"),
        json!(4_800),
    )]);
    assert_eq!(package_price(&own, "low_shoe", both, &usual), Some(Minor(4_800)));
    let leather = [usual[0], in_variant(HEELS, "leather")];
    let price = package_price(&own, "low_shoe", both, &leather);
    assert_eq!(price, Some(Minor(5_200)), "48 of 54; 58 are 51.56, rounded");
    assert_eq!(package_price(&own, "belt", both, &usual), None);
}

/// Prices of the shop's own: for the pair, for a variant, for one shoe.
fn own_prices() -> impl Strategy<Value = [Option<i64>; 3]> {
    let price = || prop::option::of(1_i64..1_000_000);
    [price(), price(), price()]
}

fn shop_of(code: &str, variant: Option<&str>, goods: &Goods, own: [Option<i64>; 3]) -> ShopState {
    let names = [
        Some(field::price(code, goods.as_str())),
        variant.map(|variant| field::variant_price(code, variant, goods.as_str())),
        Some(field::one_shoe_price(code, goods.as_str())),
    ];
    let fields = names.into_iter().zip(own);
    let fields: Vec<_> = fields
        .filter_map(|(name, price)| Some((name?, json!(price?))))
        .collect();
    shop(&fields)
}

proptest! {
    #[test]
    fn so_many_pieces_cost_so_many_times_as_much(
        known in prop::sample::select(operations().collect::<Vec<_>>()),
        goods in prop::sample::select(Goods::KNOWN.to_vec()),
        own in own_prices(),
        count in 1_u32..50,
    ) {
        let variant = known.variants.last().map(|variant| variant.code);
        let shop = shop_of(known.code, variant, &goods, own);
        let line = LineSize { variant, ..LineSize::usual(known.code) };
        let one = listed(&shop, goods.as_str(), line);
        let all = listed(&shop, goods.as_str(), LineSize { count, ..line });
        prop_assert_eq!(all, one.map(|one| Minor(one.0 * i64::from(count))));
    }

    #[test]
    fn one_shoe_costs_no_more_than_both(
        known in prop::sample::select(operations().collect::<Vec<_>>()),
        goods in prop::sample::select(Goods::KNOWN.to_vec()),
        [pair, of_variant, _] in own_prices(),
        currency in prop::sample::select(vec!["EUR", "JPY", "KWD"]),
    ) {
        for variant in std::iter::once(None).chain(known.variants.iter().map(|variant| Some(variant.code))) {
            let mut shop = shop_of(known.code, variant, &goods, [pair, of_variant, None]);
            let code = [(field::CURRENCY.to_owned(), json!(currency))];
            let values = shop.details.iter().map(|(name, slot)| (name.to_owned(), slot.current.body.clone()));
            shop = self::shop(&values.chain(code).collect::<Vec<_>>());
            let line = LineSize { variant, ..LineSize::usual(known.code) };
            let both = listed(&shop, goods.as_str(), line);
            let one = listed(&shop, goods.as_str(), left(line));
            prop_assert_eq!(one.is_some(), both.is_some());
            prop_assert!(one <= both, "{:?} of {:?}", one, both);
        }
    }

    #[test]
    fn own_prices_win(
        known in prop::sample::select(operations().collect::<Vec<_>>()),
        goods in prop::sample::select(Goods::KNOWN.to_vec()),
        own in own_prices(),
    ) {
        let variant = known.variants.last().map(|variant| variant.code);
        let shop = shop_of(known.code, variant, &goods, own);
        let usual = LineSize::usual(known.code);
        let [pair, of_variant, one] = own.map(|price| price.map(Minor));
        let ask = |line| listed(&shop, goods.as_str(), line);
        prop_assert!(pair.is_none() || ask(usual) == pair);
        if variant.is_some() && of_variant.is_some() {
            prop_assert_eq!(ask(LineSize { variant, ..usual }), of_variant);
        }
        let of_pairs = known.priced == Priced::Pair && goods.is_any_of(Class::FOOTWEAR);
        if of_pairs && one.is_some() {
            prop_assert_eq!(ask(left(usual)), one);
        }
    }

    #[test]
    fn variants_follow_the_price_of_the_row(
        known in prop::sample::select(operations().filter(|known| !known.variants.is_empty()).collect::<Vec<_>>()),
        pair in 1_i64..1_000_000,
    ) {
        let shop = shop_of(known.code, None, &Goods::Boot, [Some(pair), None, None]);
        for variant in known.variants {
            let price = listed(&shop, "boot", in_variant(known.code, variant.code)).unwrap_or_default();
            let (percent, own) = (variant.price_percent, Minor(pair));
            prop_assert!(price.is_positive());
            prop_assert!(percent < 100 || price >= own, "{}: {:?} of {:?}", variant.code, price, own);
            prop_assert!(percent > 100 || price <= own, "{}: {:?} of {:?}", variant.code, price, own);
        }
    }

    #[test]
    fn the_lines_of_a_package_add_up_to_its_price(
        goods in prop::sample::select(Goods::KNOWN.to_vec()),
        own in prop::option::of(1_i64..1_000_000),
        one_shoe in any::<bool>(),
    ) {
        for package in packages_for(&goods) {
            let fields = own.map(|own| (field::package_price(package.code, goods.as_str()), json!(own)));
            let shop = shop(&fields.into_iter().collect::<Vec<_>>());
            let mut lines = usual_lines(package);
            if one_shoe {
                lines = lines.into_iter().map(left).collect();
            }
            let price = package_price(&shop, goods.as_str(), package, &lines);
            let parts = package_prices(&shop, goods.as_str(), package, &lines);
            prop_assert!(price.is_some_and(|price| price.is_positive()), "{}", package.code);
            prop_assert_eq!(parts.map(|parts| parts.into_iter().sum()), price);
        }
    }
}
