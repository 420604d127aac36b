//! The starting price list: norms to edit.
//!
//! Common practice, no source, no country: whole units of whatever currency the shop uses. A price set by the
//! shop stands in its own log and always wins.

use super::kinds::Goods;

/// One operation and its price in whole units for each kind of goods, in the order of [`Goods::KNOWN`]; 0 where
/// the work is unusual or has to be looked at first.
type PriceRow = (&'static str, [u16; Goods::KNOWN.len()]);

/// Work that is part of other work and has no price of its own.
#[cfg(test)]
const UNPRICED: &[&str] = &["open_up", "sole_off"];

#[rustfmt::skip]
const NORMS: &[PriceRow] = &[
    //                          low boot walk court dance sand child belt bag other
    ("top_piece_replacement",  [ 16,  18,  22,   10,   12,  14,  10,   0,  0,  0]),
    ("half_sole",              [ 38,  40,  48,   30,   32,  32,  24,   0,  0,  0]),
    ("sole_guard",             [ 26,  28,  32,   22,   24,  22,  18,   0,  0,  0]),
    ("resole_cemented",        [ 65,  70,  85,   50,   50,  48,  38,   0,  0,  0]),
    ("resole_blake",           [ 85,  90,   0,   70,   70,  65,   0,   0,  0,  0]),
    ("resole_welted",          [ 95, 105, 125,    0,    0,   0,   0,   0,  0,  0]),
    ("resole_hand_welted",     [220, 240, 260,    0,    0,   0,   0,   0,  0,  0]),
    ("heel_block_rebuild",     [ 45,  48,  55,   35,   35,  35,  25,   0,  0,  0]),
    ("welt_piece",             [ 32,  34,  38,    0,    0,   0,   0,   0,  0,  0]),
    ("rewelt",                 [150, 160, 180,    0,    0,   0,   0,   0,  0,  0]),
    ("counter_rebuild",        [ 65,  70,  75,   55,   55,   0,  40,   0,  0,  0]),
    ("lining_patch",           [ 22,  24,  28,   18,   18,   0,  16,   0,  0,  0]),
    ("restitch_upper",         [ 14,  16,  18,   12,   12,  12,  10,   0,  0,  0]),
    ("upper_patch",            [ 22,  24,  28,   18,   18,  18,  16,   0,  0,  0]),
    ("elastic_replacement",    [ 40,  42,  45,   30,   30,  28,  25,   0,  0,  0]),
    ("zip_replacement",        [ 40,  48,  52,    0,    0,   0,  32,   0, 45, 40]),
    ("edge_trim_ink",          [ 14,  14,  16,   12,   12,  10,   8,   0,  0,  0]),
    ("strip_and_dye",          [ 55,  70,  70,   45,   45,  40,  35,  30, 80, 50]),
    ("clean_condition_polish", [ 12,  15,  18,   10,   10,  10,   8,   8, 25, 15]),
    ("stretch",                [ 12,  15,  15,   12,   12,   0,  10,   0,  0,  0]),
    ("recement_sole",          [ 18,  20,  24,   16,   16,  16,  14,   0,  0,  0]),
    ("restitch_sole",          [ 25,  28,  32,   20,   20,  20,   0,   0,  0,  0]),
    ("toe_piece",              [ 18,  20,  24,   14,   14,  14,  12,   0,  0,  0]),
    ("midsole_replacement",    [ 35,  38,  55,    0,    0,  30,   0,   0,  0,  0]),
    ("rand_repair",            [  0,  40,  48,    0,    0,   0,   0,   0,  0,  0]),
    ("shank_replacement",      [ 18,  20,  22,   18,   16,  16,  12,   0,  0,  0]),
    ("filler_replacement",     [ 12,  12,  15,    0,    0,   0,   0,   0,  0,  0]),
    ("insole_repair",          [ 25,  28,  30,   22,   22,  22,  18,   0,  0,  0]),
    ("rib_repair",             [ 35,  38,  42,    0,    0,   0,   0,   0,  0,  0]),
    ("sock_replacement",       [ 10,  10,  12,   10,   10,  10,   8,   0,  0,  0]),
    ("puff_rebuild",           [ 65,  70,  75,   50,   50,   0,   0,   0,  0,  0]),
    ("heel_grip",              [ 15,  16,  18,   14,   14,   0,  12,   0,  0,  0]),
    ("cement_lifts",           [ 22,  24,  28,   16,   18,  16,  14,   0,  0,  0]),
    ("heel_refix",             [ 18,  20,  24,   18,   18,  16,  14,   0,  0,  0]),
    ("heel_cover",             [ 35,  35,   0,   32,   32,  28,   0,   0,  0,  0]),
    ("quarter_tips",           [  8,   8,  10,    0,    0,   0,   6,   0,  0,  0]),
    ("raise_to_prescription",  [ 60,  65,  75,    0,    0,  55,  50,   0,  0,  0]),
    ("eyelet_replacement",     [ 10,  12,  14,    8,    8,   8,   8,   5, 10,  8]),
    ("strap_replacement",      [ 25,  28,  30,   20,   20,  22,  18,   0, 35, 30]),
    ("buckle_replacement",     [ 14,  15,  16,   12,   12,  12,  10,  12, 15, 14]),
    ("new_hole",               [  3,   3,   3,    3,    3,   3,   3,   3,  3,  3]),
    ("shorten_belt",           [  0,   0,   0,    0,    0,   0,   0,  14,  0,  0]),
    ("restitch_seam",          [  0,   0,   0,    0,    0,   0,   0,  12, 18, 14]),
    ("colour_touch_up",        [ 18,  20,  20,   15,   15,  14,  12,  12, 25, 16]),
    ("water_repellent",        [  6,   8,   8,    6,    6,   6,   5,   4, 10,  8]),
    ("small_repair",           [  8,   8,   8,    8,    8,   8,   6,   6,  8,  8]),
];

/// The starting price of an operation on one kind of goods, in minor units (hundredths); `None` where the list
/// has none and the repairer says what it costs.
pub fn norm(operation: &str, kind: &Goods) -> Option<i64> {
    let column = Goods::KNOWN.iter().position(|known| known == kind)?;
    let (_, row) = NORMS.iter().find(|(code, _)| *code == operation)?;
    match row[column] {
        0 => None,
        whole => Some(i64::from(whole) * 100),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trade::operations::OPERATIONS;

    #[test]
    fn only_possible_work_has_a_price() {
        for known in OPERATIONS {
            for goods in Goods::KNOWN {
                let priced = norm(known.code, goods).is_some();
                assert!(!priced || known.fits(goods), "{} on {goods}", known.code);
            }
        }
    }

    #[test]
    fn every_operation_has_a_price_for_each_class_of_goods_it_fits() {
        for known in OPERATIONS.iter().filter(|known| !UNPRICED.contains(&known.code)) {
            for class in known.goods {
                let of_class = Goods::KNOWN.iter().filter(|goods| goods.class() == Some(*class));
                assert!(
                    of_class.clone().any(|goods| norm(known.code, goods).is_some()),
                    "{}",
                    known.code
                );
            }
        }
        for (at, (code, _)) in NORMS.iter().enumerate() {
            assert!(OPERATIONS.iter().any(|known| known.code == *code), "{code}");
            assert!(NORMS[..at].iter().all(|(other, _)| other != code), "{code} twice");
        }
    }

    #[test]
    fn more_work_never_costs_less() {
        let price = |code| norm(code, &Goods::LowShoe);
        assert!(price("half_sole") > price("sole_guard"));
        assert!(price("resole_welted") > price("resole_blake"));
        assert!(price("resole_hand_welted") > price("resole_welted"));
        assert!(price("rewelt") > price("welt_piece"));
        assert_eq!(price("half_sole"), Some(3800), "minor units");
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
