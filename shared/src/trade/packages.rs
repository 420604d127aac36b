//! Packages: several operations that are agreed in one tap, at a price below the sum of the list.
//!
//! Common practice, no source: the shoe is taken in, set up and finished once.

use super::kinds::Goods;
use super::operations::operation;
use super::prices::norm;
use super::usage::in_usage;
use crate::price::apportion::apportion;
use crate::price::minor::Minor;

/// What a package costs, in percent of the list prices of its operations.
const USUAL_PERCENT: u16 = 92;
/// Hundredths in a whole unit.
const UNIT: i64 = 100;

/// Operations that are agreed together, at a price of their own.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Package {
    /// Its word in the log.
    pub code: &'static str,
    name: &'static str,
    /// Its operations, in the order in which they are agreed.
    pub operations: &'static [&'static str],
    /// Its price, in percent of the sum of its operations' list prices.
    pub percent: u16,
}

impl Package {
    /// Its name, as repairers use it.
    pub fn name(&self) -> &'static str {
        in_usage(self.name)
    }
}

macro_rules! packages {
    ($($code:literal, $name:literal: $($operation:literal),+;)+) => {
        const PACKAGES: &[Package] = &[$(Package {
            code: $code,
            name: $name,
            operations: &[$($operation),+],
            percent: USUAL_PERCENT,
        }),+];
    };
}

packages! {
    "half_soles_and_heels", "Half soles and heels": "half_sole", "top_piece_replacement";
    "guards_and_heels", "Sole guards and heels": "sole_guard", "top_piece_replacement";
    "full_sole_and_heels_cemented", "Long soles and heels, cemented": "resole_cemented", "top_piece_replacement";
    "full_sole_and_heels_blake", "Long soles and heels, Blake": "resole_blake", "top_piece_replacement";
    "full_sole_and_heels_welted", "Long soles and heels, machine-welted": "resole_welted", "top_piece_replacement";
    "full_sole_and_heels_hand_welted", "Long soles and heels, hand-welted":
        "resole_hand_welted", "top_piece_replacement";
}

/// All packages, with the most frequent first.
pub fn packages() -> &'static [Package] {
    PACKAGES
}

/// Looks a package up by its word in the log.
pub fn package(code: &str) -> Option<&'static Package> {
    PACKAGES.iter().find(|known| known.code == code)
}

/// The packages for a kind of goods: those of whose operations the price list has a price for each. For a kind that
/// this version does not know, all of them.
pub fn packages_for(goods: &Goods) -> impl Iterator<Item = &'static Package> {
    PACKAGES.iter().filter(move |package| {
        let mut operations = package.operations.iter();
        goods.class().is_none() || operations.all(|code| norm(code, goods).is_some())
    })
}

/// What a package on a kind of goods costs, rounded to a whole unit and never above the sum of its operations. `price`
/// gives the list price of an operation; it and the result are in hundredths of a unit, as [`norm`] is. `None` if an
/// operation has no price, or cannot be done to such goods.
pub fn usual_price(package: &Package, goods: &Goods, price: impl Fn(&str) -> Option<Minor>) -> Option<Minor> {
    let of = |code: &&str| {
        operation(code)
            .filter(|known| known.fits(goods))
            .and_then(|_| price(code))
    };
    let sum: Minor = package.operations.iter().map(of).sum::<Option<Minor>>()?;
    let shared = sum.0.saturating_mul(i64::from(package.percent));
    let whole = shared.saturating_add(UNIT * UNIT / 2).div_euclid(UNIT * UNIT);
    Some(Minor(whole.saturating_mul(UNIT)).min(sum))
}

/// Shares the price of a package over its operations, in proportion to their list prices. `unit` is a whole unit of the
/// currency in minor units. The shares are whole units if `total` is a whole number of them, unless a share would then be
/// above its list price though `total` is not above their sum; otherwise they are to the minor unit. They add up to
/// `total`, and are equal if no list price is above zero.
pub fn shares(total: Minor, list: &[Minor], unit: i64) -> Vec<Minor> {
    let weights: Vec<f64> = list.iter().map(|price| price.as_f64()).collect();
    let sum: Minor = list.iter().copied().sum();
    if unit > 1 && total.0 % unit == 0 && sum.is_positive() {
        let units = apportion(Minor(total.0 / unit), &weights).into_iter();
        let whole: Vec<Minor> = units.map(|share| Minor(share.0.saturating_mul(unit))).collect();
        let is_above_list = whole.iter().zip(list).any(|(share, price)| share > price);
        if total > sum || !is_above_list {
            return whole;
        }
    }
    apportion(total, &weights)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;
    use std::collections::BTreeSet;

    #[test]
    fn every_package_has_its_own_word_and_operations_of_the_list() {
        let codes: BTreeSet<_> = packages().iter().map(|known| known.code).collect();
        let names: BTreeSet<_> = packages().iter().map(|known| known.name).collect();
        assert_eq!((codes.len(), names.len()), (packages().len(), packages().len()));
        for known in packages() {
            assert_eq!(package(known.code), Some(known));
            assert!(
                known.operations.len() > 1 && known.percent <= 100,
                "{}",
                known.code
            );
            for (at, code) in known.operations.iter().enumerate() {
                assert!(operation(code).is_some(), "{}: {code}", known.code);
                assert!(!known.operations[..at].contains(code), "{}: {code}", known.code);
            }
        }
        assert_eq!(package("bell and whistle"), None);
    }

    /// Every full sole that takes its heels with it has a package with them.
    #[test]
    fn every_full_sole_that_asks_for_heels_has_them_in_a_package() {
        use crate::trade::operations::operations;
        let heels = "top_piece_replacement";
        let soles =
            operations().filter(|one| one.code.starts_with("resole_") && one.asks_for.contains(&heels));
        for sole in soles {
            let both = packages()
                .iter()
                .any(|known| known.operations == [sole.code, heels]);
            assert!(both, "{}", sole.code);
        }
    }

    #[test]
    fn sole_and_heel_cost_less_together() {
        let both = package("half_soles_and_heels").unwrap();
        let price = |code: &str| norm(code, &Goods::LowShoe);
        // 38 and 16 are 54; 92 % of them 49.68.
        assert_eq!(usual_price(both, &Goods::LowShoe, price), Some(Minor(5000)));
        assert_eq!(usual_price(both, &Goods::LowShoe, |_| None), None);
        assert_eq!(
            usual_price(both, &Goods::Belt, price),
            None,
            "a belt has no soles"
        );
        let cheap = |_: &str| Some(Minor(30));
        assert_eq!(
            usual_price(both, &Goods::LowShoe, cheap),
            Some(Minor(60)),
            "no more than both"
        );
        for goods in Goods::KNOWN {
            for known in packages_for(goods) {
                let price = |code: &str| norm(code, goods);
                let together = usual_price(known, goods, price).unwrap();
                let sum: Minor = known.operations.iter().filter_map(|code| price(code)).sum();
                assert!(
                    together < sum && together.0 % UNIT == 0,
                    "{} on {goods}",
                    known.code
                );
            }
        }
    }

    #[test]
    fn a_package_is_offered_where_all_of_it_is_usual() {
        let on = |goods| packages_for(goods).map(|known| known.code).collect::<Vec<_>>();
        assert_eq!(on(&Goods::LowShoe).len(), packages().len());
        assert!(!on(&Goods::CourtShoe).contains(&"full_sole_and_heels_welted"));
        assert!(
            on(&Goods::Trainer).is_empty(),
            "a trainer has no heels of its own"
        );
        assert!(on(&Goods::Bag).is_empty());
        assert_eq!(on(&Goods::from("hat")).len(), packages().len());
    }

    #[test]
    fn shares_follow_the_list() {
        let list = [Minor(3800), Minor(1600)];
        assert_eq!(
            shares(Minor(5000), &list, UNIT),
            [Minor(3500), Minor(1500)],
            "35.19 and 14.81, in whole units"
        );
        assert_eq!(
            shares(Minor(4990), &list, UNIT),
            [Minor(3511), Minor(1479)],
            "the package itself has a price with cents"
        );
        assert_eq!(
            shares(Minor(50), &list, 1),
            [Minor(35), Minor(15)],
            "a currency without minor units"
        );
        assert_eq!(shares(Minor(5400), &list, UNIT), list);
        // Whole units are 9 and 2, and 2 is more than the list asks for the second.
        let odd = [Minor(1000), Minor(160)];
        assert_eq!(shares(Minor(1100), &odd, UNIT), [Minor(948), Minor(152)]);
        assert_eq!(
            shares(Minor(100), &[Minor(0), Minor(0)], UNIT),
            [Minor(50), Minor(50)]
        );
        assert!(shares(Minor(0), &[], UNIT).is_empty());
    }

    proptest! {
        #[test]
        fn shares_add_up_and_none_is_above_its_list_price(
            list in prop::collection::vec(1_i64..1_000_000, 1..6),
            percent in 0_i64..=100,
            whole_total in any::<bool>(),
            unit in prop::sample::select(vec![1_i64, 100, 1_000]),
        ) {
            let list: Vec<Minor> = list.into_iter().map(Minor).collect();
            let sum: Minor = list.iter().copied().sum();
            let exact = sum.0 * percent / 100;
            let total = Minor(if whole_total { exact / unit * unit } else { exact });
            let parts = shares(total, &list, unit);
            prop_assert_eq!(parts.iter().copied().sum::<Minor>(), total);
            for (part, full) in parts.iter().zip(&list) {
                prop_assert!(part.0 >= 0 && part.0 <= full.0, "{:?} of {:?}", part, full);
            }
        }

        #[test]
        fn shares_of_a_whole_price_over_whole_prices_are_whole(
            list in prop::collection::vec(1_i64..10_000, 1..6),
            total in 1_i64..50_000,
            unit in prop::sample::select(vec![1_i64, 100, 1_000]),
        ) {
            let list: Vec<Minor> = list.into_iter().map(|units| Minor(units * unit)).collect();
            let total = Minor(total * unit);
            let parts = shares(total, &list, unit);
            prop_assert_eq!(parts.iter().copied().sum::<Minor>(), total);
            prop_assert!(parts.iter().all(|part| part.0 % unit == 0), "{:?}", parts);
        }
    }
}
