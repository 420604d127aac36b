//! The starting price list: norms for the shop to edit.
//!
//! Common practice, no source, no country: whole units of whatever currency the shop uses. A price set by the
//! shop stands in its own log and always wins.

use super::kinds::Goods;
use super::operations::operation;
use crate::price::minor::Minor;

/// The starting price of an operation on one kind of goods, in minor units (hundredths); `None` if the list has no
/// price, so that the repairer must enter one.
pub fn norm(code: &str, kind: &Goods) -> Option<Minor> {
    let column = Goods::KNOWN.iter().position(|known| known == kind)?;
    match operation(code)?.price[column] {
        0 => None,
        whole => Some(Minor(i64::from(whole) * 100)),
    }
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
}
