//! The starting price list: norms for the shop to edit.
//!
//! Common practice, no source, no country: whole units of whatever currency the shop uses. A price set by the
//! shop stands in its own log and always wins.

use super::kinds::{Class, Goods};
use super::operations::{Priced, operation};
use crate::price::minor::Minor;

/// What work on one shoe costs, in percent of the pair: the setting up and the waiting are the same for one.
pub const ONE_SHOE_PERCENT: u32 = 60;

/// The starting price of an operation on one kind of goods, in minor units (hundredths); `None` if the list has no
/// price, so that the repairer must enter one. Of work that is priced each, the price of one piece.
pub fn norm(code: &str, kind: &Goods) -> Option<Minor> {
    norm_of(code, kind, None)
}

/// The starting price of an operation done in one of its variants, rounded to a whole unit, in hundredths; that of the
/// row itself if `variant` is `None`. `None` if the list has no price, or does not know the variant.
pub fn norm_of(code: &str, kind: &Goods, variant: Option<&str>) -> Option<Minor> {
    whole_units(code, kind, variant).map(hundredths)
}

/// The starting price of an operation on one shoe of a pair, rounded up to a whole unit, in hundredths. `None` if the
/// list has no price, for work that is priced each, and for goods that are no pair.
pub fn norm_one_shoe(code: &str, kind: &Goods, variant: Option<&str>) -> Option<Minor> {
    let of_pairs = operation(code)?.priced == Priced::Pair && kind.is_any_of(Class::FOOTWEAR);
    let pair = whole_units(code, kind, variant).filter(|_| of_pairs)?;
    Some(hundredths((pair * ONE_SHOE_PERCENT).div_ceil(100)))
}

/// A starting price in whole units.
fn whole_units(code: &str, kind: &Goods, variant: Option<&str>) -> Option<u32> {
    let known = operation(code)?;
    let column = Goods::KNOWN.iter().position(|known| known == kind)?;
    let percent = match variant {
        Some(variant) => known.variant(variant)?.price_percent,
        None => 100,
    };
    match known.price[column] {
        0 => None,
        whole => Some((u32::from(whole) * u32::from(percent) + 50) / 100),
    }
}

fn hundredths(whole: u32) -> Minor {
    Minor(i64::from(whole) * 100)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trade::operations::columns::UNPRICED;
    use crate::trade::operations::operations;

    #[test]
    fn only_possible_work_has_a_price() {
        for known in operations() {
            for goods in Goods::KNOWN {
                let priced = norm(known.code, goods).is_some();
                assert!(!priced || known.fits(goods), "{} on {goods}", known.code);
            }
        }
    }

    #[test]
    fn every_operation_has_a_price_for_each_class_of_goods_it_fits() {
        for known in operations().filter(|known| known.price != UNPRICED) {
            for class in known.goods {
                let of_class = Goods::KNOWN.iter().filter(|goods| goods.class() == Some(*class));
                assert!(
                    of_class.clone().any(|goods| norm(known.code, goods).is_some()),
                    "{}",
                    known.code
                );
            }
        }
        let unpriced = operations().filter(|known| known.price == UNPRICED);
        assert_eq!(
            unpriced.map(|known| known.code).collect::<Vec<_>>(),
            ["open_up", "sole_off"]
        );
    }

    #[test]
    fn more_work_never_costs_less() {
        let price = |code| norm(code, &Goods::LowShoe);
        assert!(price("half_sole") > price("sole_guard"));
        assert!(price("resole_welted") > price("resole_blake"));
        assert!(price("resole_hand_welted") > price("resole_welted"));
        assert!(price("rewelt") > price("welt_piece"));
        assert_eq!(price("half_sole"), Some(Minor(3800)), "minor units");
    }

    #[test]
    fn what_the_list_does_not_know_has_no_price() {
        assert_eq!(norm("bell repair", &Goods::LowShoe), None);
        assert_eq!(norm("half_sole", &Goods::from("hat")), None);
        assert_eq!(norm("half_sole", &Goods::Belt), None);
        assert_eq!(
            norm("open_up", &Goods::LowShoe),
            None,
            "part of the work it is for"
        );
    }

    #[test]
    fn a_variant_costs_its_share_of_the_row() {
        let shoe = Goods::LowShoe;
        let of = |variant| norm_of("top_piece_replacement", &shoe, variant);
        assert_eq!(of(None), norm("top_piece_replacement", &shoe));
        assert_eq!(of(Some("rubber")), Some(Minor(1600)));
        assert_eq!(of(Some("leather")), Some(Minor(2000)));
        assert_eq!(of(Some("combination")), Some(Minor(2100)), "20.80, rounded");
        assert_eq!(of(Some("cork")), None);
        let side = norm_of("elastic_replacement", &Goods::Boot, Some("one_side"));
        assert_eq!(side, Some(Minor(2500)), "25.20, rounded");
    }

    #[test]
    fn one_shoe_costs_more_than_half_a_pair() {
        let one = |code, goods| norm_one_shoe(code, goods, None);
        assert_eq!(
            one("half_sole", &Goods::LowShoe),
            Some(Minor(2300)),
            "22.80, rounded up"
        );
        assert_eq!(one("zip_replacement", &Goods::Boot), None, "a zip costs each");
        assert_eq!(
            one("clean_condition_polish", &Goods::Bag),
            None,
            "a bag is no pair"
        );
        let leather = norm_one_shoe("half_sole", &Goods::LowShoe, Some("leather"));
        assert_eq!(leather, Some(Minor(2800)), "60 % of 46, rounded up");
        for known in operations() {
            for goods in Goods::KNOWN {
                let one = norm_one_shoe(known.code, goods, None);
                assert!(known.priced == Priced::Pair || one.is_none(), "{}", known.code);
                let Some(one) = one else { continue };
                let pair = norm(known.code, goods).unwrap_or_default();
                assert!(one <= pair && one.0 * 2 > pair.0, "{} on {goods}", known.code);
            }
        }
    }

    #[test]
    fn every_variant_of_work_with_a_price_has_one() {
        for known in operations() {
            for goods in Goods::KNOWN
                .iter()
                .filter(|goods| norm(known.code, goods).is_some())
            {
                for variant in known.variants {
                    let price = norm_of(known.code, goods, Some(variant.code));
                    assert!(price.is_some_and(|price| price.is_positive()), "{}", known.code);
                }
            }
        }
    }
}
