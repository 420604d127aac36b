use super::*;
use crate::commands::scene;
use proptest::prelude::*;
use serde_json::{Value, json};
use shared::log::body::field;
use shared::price::currency::Currency;
use shared::trade::packages;

const HEELS: &str = "top_piece_replacement";

fn shop(prices: &[(String, i64)]) -> ShopState {
    let prices: Vec<(&str, Value)> = prices
        .iter()
        .map(|(name, price)| (name.as_str(), json!(price)))
        .collect();
    scene::shop(&prices)
}

fn a(goods: &str) -> PairIn {
    PairIn {
        goods: goods.to_owned(),
        ..PairIn::default()
    }
}

fn costs(pair: &PairIn) -> Vec<(&str, &str)> {
    pair.lines
        .iter()
        .map(|line| (line.operation.as_str(), line.price.as_str()))
        .collect()
}

fn sole_and_heel() -> &'static Package {
    package("half_soles_and_heels").unwrap()
}

#[test]
fn the_prescribed_height_of_a_raise_is_written_and_named() {
    let raise = LineIn {
        side: Side::Right,
        height_mm: 12,
        ..LineIn::usual("raise_to_prescription")
    };
    assert_eq!(raise.agreed(Minor::ZERO).height_mm, Some(12));
    assert!(raise.name().ends_with(", 12 mm, right"), "{}", raise.name());
    assert_eq!(
        LineIn::usual("raise_to_prescription")
            .agreed(Minor::ZERO)
            .height_mm,
        None
    );
    // A form that an older app stored says nothing of it.
    let older = r#"{"operation": "stretch", "side": "both", "price": "8", "by_hand": false}"#;
    let older: LineIn = serde_json::from_str(older).expect("it is read");
    assert_eq!(older.height_mm, 0);
}

#[test]
fn prices_follow_the_list_until_somebody_writes_one() {
    let shop = shop(&[
        (field::price("half_sole", "boot"), 4_000),
        (field::price("half_sole", "low_shoe"), 3_850),
    ]);
    let mut pair = a("boot");
    pair.toggle("half_sole", &shop);
    pair.toggle("bell repair", &shop);
    assert_eq!(costs(&pair), [("half_sole", "40"), ("bell repair", "")]);
    pair.is_a("low_shoe", &shop);
    assert_eq!(pair.lines[0].price, "38.50");
    pair.change(0, &shop, |line| line.side = Side::Left);
    assert_eq!(pair.lines[0].price, "24", "60 % of 38.50, rounded up");
    pair.change(0, &shop, |line| line.variant = "leather".into());
    assert_eq!(pair.lines[0].price, "28", "60 % of 46.20");
    pair.lines[0].price = "35".into();
    pair.lines[0].by_hand = true;
    pair.change(0, &shop, |line| line.side = Side::Both);
    pair.is_a("boot", &shop);
    assert_eq!(pair.lines[0].price, "35", "as it was typed");
    pair.toggle("half_sole", &shop);
    assert!(!pair.has("half_sole"));
    assert_eq!(pair.work(), "bell repair");
}

#[test]
fn pieces_are_counted_and_never_fewer_than_one() {
    let shop = ShopState::default();
    let mut boots = a("boot");
    boots.toggle("zip_replacement", &shop);
    boots.change(0, &shop, |line| line.count = 2);
    assert_eq!(costs(&boots), [("zip_replacement", "96")]);
    assert_eq!(boots.work(), "Zip × 2");
    boots.change(0, &shop, |line| line.count = 0);
    assert_eq!(boots.lines[0].count, 1);
    boots.change(0, &shop, |line| line.count = u32::MAX);
    assert_eq!(boots.lines[0].count, MOST_PIECES);
}

#[test]
fn a_belt_has_no_left_one() {
    let shop = ShopState::default();
    let mut pair = a("low_shoe");
    pair.toggle("clean_condition_polish", &shop);
    pair.change(0, &shop, |line| line.side = Side::Right);
    pair.is_a("belt", &shop);
    assert_eq!(
        (&pair.lines[0].side, pair.lines[0].price.as_str()),
        (&Side::Both, "8")
    );
}

#[test]
fn a_package_is_one_tap_and_its_lines_share_its_price() {
    let shop = ShopState::default();
    let mut pair = a("low_shoe");
    pair.toggle("half_sole", &shop);
    pair.lines[0].price = "45".into();
    pair.lines[0].by_hand = true;
    pair.toggle_package(sole_and_heel(), &shop);
    assert_eq!(costs(&pair), [("half_sole", "35"), (HEELS, "15")]);
    assert!(pair.has_package(sole_and_heel()));
    // 38 and 20 are 58; 92 % of them 53.36.
    pair.change(1, &shop, |line| line.variant = "leather".into());
    assert_eq!(pair.sum(Currency::default()), Minor(5_300));
    pair.take_off(0, &shop);
    assert_eq!(
        costs(&pair),
        [(HEELS, "20")],
        "by itself it costs its list price again"
    );
    assert_eq!(pair.lines[0].package, "");
    pair.toggle_package(sole_and_heel(), &shop);
    pair.toggle_package(sole_and_heel(), &shop);
    assert!(pair.lines.is_empty());
}

#[test]
fn the_shops_own_price_of_a_package_counts() {
    let shop = shop(&[(field::package_price("half_soles_and_heels", "boot"), 5_500)]);
    let mut pair = a("boot");
    pair.toggle_package(sole_and_heel(), &shop);
    assert_eq!(pair.sum(Currency::default()), Minor(5_500));
    pair.is_a("belt", &shop);
    assert!(
        pair.lines.iter().all(|line| line.package.is_empty()),
        "not on a belt"
    );
}

#[test]
fn a_line_is_in_one_package_only() {
    let shop = ShopState::default();
    let mut pair = a("low_shoe");
    pair.toggle_package(package("guards_and_heels").unwrap(), &shop);
    pair.toggle_package(sole_and_heel(), &shop);
    let packages: Vec<_> = pair.lines.iter().map(|line| line.package.as_str()).collect();
    assert_eq!(packages, ["", sole_and_heel().code, sole_and_heel().code]);
    assert_eq!(pair.lines[0].price, "26", "the guards by themselves");
}

#[test]
fn what_is_part_of_other_work_is_not_charged() {
    let shop = ShopState::default();
    let mut pair = a("low_shoe");
    pair.toggle("edge_trim", &shop);
    pair.toggle("edge_trim_ink", &shop);
    assert_eq!(costs(&pair), [("edge_trim_ink", "14")], "trimming is part of it");
    pair.toggle("resole_cemented", &shop);
    assert_eq!(costs(&pair), [("resole_cemented", "65")]);
    let part_of = pair.includes("edge_trim_ink").map(|line| line.operation.as_str());
    assert_eq!(part_of, Some("resole_cemented"));
    pair.toggle("edge_trim", &shop);
    assert_eq!(pair.lines.len(), 1);
}

#[test]
fn a_full_sole_asks_for_heels() {
    let shop = ShopState::default();
    let mut pair = a("low_shoe");
    pair.toggle("resole_welted", &shop);
    assert_eq!(pair.asks_for(&shop), [HEELS]);
    pair.add_asked(HEELS, &shop);
    assert!(pair.asks_for(&shop).is_empty());
    let together = package("full_sole_and_heels_welted").unwrap();
    assert!(pair.has_package(together), "as the package, because there is one");
    // 95 and 16 are 111; 92 % of them 102.12.
    assert_eq!(pair.sum(Currency::default()), Minor(10_200));

    let mut typed = a("low_shoe");
    typed.toggle("resole_welted", &shop);
    typed.lines[0].price = "120".into();
    typed.lines[0].by_hand = true;
    typed.add_asked(HEELS, &shop);
    assert_eq!(
        costs(&typed),
        [("resole_welted", "120"), (HEELS, "16")],
        "a typed price stays"
    );

    let mut trainer = a("trainer");
    trainer.toggle("resole_cemented", &shop);
    assert!(
        trainer.asks_for(&shop).is_empty(),
        "a trainer has no heels of its own"
    );
}

#[test]
fn leather_on_the_left_and_rubber_on_the_right_are_two_lines() {
    let shop = shop(&[(field::price("half_sole", "low_shoe"), 4_000)]);
    let mut pair = a("low_shoe");
    pair.toggle("half_sole", &shop);
    pair.toggle("stretch", &shop);
    assert!(!pair.lacks_other_shoe(0), "it is on both");
    pair.change(0, &shop, |line| line.side = Side::Left);
    pair.change(0, &shop, |line| line.variant = "leather".into());
    assert!(pair.lacks_other_shoe(0));
    assert_eq!(pair.label(0), operations::name("half_sole"), "there is only one");
    pair.add_other_shoe(0, &shop);
    assert!(!pair.lacks_other_shoe(0) && !pair.lacks_other_shoe(1));
    pair.add_other_shoe(0, &shop);
    pair.change(1, &shop, |line| line.variant = "rubber".into());
    // 60 % of 48 and of 40.
    assert_eq!(
        costs(&pair)[..2],
        [("half_sole", "29"), ("half_sole", "24")],
        "each at its own price"
    );
    let name = operations::name("half_sole");
    assert_eq!(pair.lines[0].name(), format!("{name}, leather, left"));
    assert_eq!(pair.lines[1].name(), format!("{name}, rubber, right"));
    assert_eq!(pair.label(0), format!("{name}, left"));
    assert_eq!(pair.label(1), format!("{name}, right"));
    assert_eq!(pair.lines.len(), 3);

    // The two lines are never on the same shoe.
    pair.change(0, &shop, |line| line.side = Side::Right);
    assert_eq!(pair.lines[1].side, Side::Left);
    let mut on_both = pair.clone();
    on_both.change(1, &shop, |line| line.side = Side::Both);
    assert_eq!(costs(&on_both)[0], ("half_sole", "40"));
    assert_eq!(on_both.lines.len(), 2);
    let mut belt = pair.clone();
    belt.is_a("belt", &shop);
    assert_eq!(belt.lines.len(), 2, "a belt has no left and no right");
    pair.toggle("half_sole", &shop);
    assert_eq!(costs(&pair).len(), 1, "off both shoes with one tap");
}

#[test]
fn a_package_stays_whole_while_one_of_two_shoes_is_left() {
    let shop = ShopState::default();
    let mut pair = a("low_shoe");
    pair.toggle_package(sole_and_heel(), &shop);
    let at = pair
        .lines
        .iter()
        .position(|line| line.operation == HEELS)
        .unwrap();
    pair.change(at, &shop, |line| line.side = Side::Left);
    let one = pair.sum(Currency::default());
    pair.add_other_shoe(at, &shop);
    assert!(pair.lines.iter().all(|line| line.package == sole_and_heel().code));
    assert!(
        pair.sum(Currency::default()) > one,
        "the other heel is charged too"
    );
    pair.take_off(at + 1, &shop);
    assert!(pair.has_package(sole_and_heel()));
    assert_eq!(pair.sum(Currency::default()), one);
}

#[derive(Debug, Clone)]
enum Tap {
    Work(usize),
    Bundle(usize),
    TakeOff(usize),
    Which(usize, Side),
    OtherShoe(usize),
    Goods(usize),
}

fn taps() -> impl Strategy<Value = Vec<Tap>> {
    let side = prop::sample::select(vec![Side::Both, Side::Left, Side::Right]);
    let tap = prop_oneof![
        (0..WORK.len()).prop_map(Tap::Work),
        (0..packages().len()).prop_map(Tap::Bundle),
        (0..4_usize).prop_map(Tap::TakeOff),
        (0..4_usize, side).prop_map(|(at, side)| Tap::Which(at, side)),
        (0..4_usize).prop_map(Tap::OtherShoe),
        (0..Goods::KNOWN.len()).prop_map(Tap::Goods),
    ];
    prop::collection::vec(tap, 0..12)
}

const WORK: [&str; 6] = [
    HEELS,
    "half_sole",
    "edge_trim",
    "edge_trim_ink",
    "resole_cemented",
    "zip_replacement",
];

proptest! {
    /// Whatever is tapped: an operation is there once, or once on each shoe, and not beside what includes it; packages are
    /// whole, their lines add up to their price, and every other line costs what the list says.
    #[test]
    fn lines_and_prices_hold_together(taps in taps()) {
        let shop = ShopState::default();
        let mut pair = PairIn::default();
        for tap in taps {
            match tap {
                Tap::Work(at) => pair.toggle(WORK[at], &shop),
                Tap::Bundle(at) => pair.toggle_package(&packages()[at], &shop),
                Tap::TakeOff(at) => pair.take_off(at, &shop),
                Tap::Which(at, side) => pair.change(at, &shop, |line| line.side = side),
                Tap::OtherShoe(at) => pair.add_other_shoe(at, &shop),
                Tap::Goods(at) => pair.is_a(Goods::KNOWN[at].as_str(), &shop),
            }
            for (at, line) in pair.lines.iter().enumerate() {
                let mut earlier = pair.lines[..at].iter().filter(|one| one.operation == line.operation);
                prop_assert!(earlier.all(|one| one.free_shoe().as_ref() == Some(&line.side)));
                prop_assert!(pair.includes(&line.operation).is_none());
                if line.package.is_empty() {
                    let price = listed(&shop, &pair.goods, line.asked());
                    let typed = price.map(|price| Currency::default().typed(price)).unwrap_or_default();
                    prop_assert_eq!(&line.price, &typed);
                }
            }
            for package in packages().iter().filter(|package| pair.has_package(package)) {
                let lines: Vec<&LineIn> = pair.lines.iter().filter(|line| line.package == package.code).collect();
                prop_assert!(package.operations.iter().all(|code| lines.iter().any(|line| line.operation == *code)));
                let asked: Vec<LineSize<'_>> = lines.iter().map(|line| line.asked()).collect();
                let price = shared::price::listed::package_price(&shop, &pair.goods, package, &asked);
                let sum: Option<Minor> = lines.iter().map(|line| Currency::default().parse(&line.price)).sum();
                prop_assert_eq!(sum, price);
            }
        }
    }
}
