//! Which parts come to light when an operation is done: nobody could see them when the price was agreed.
//!
//! Common practice, no source.

use super::component::Component;
use super::kinds::Goods;

/// Under a sole that comes off whole. The heel comes off with it.
const UNDER_SOLE: &[Component] = &[
    Component::Insole,
    Component::Filler,
    Component::Shank,
    Component::LastingMargin,
    Component::Midsole,
    Component::HeelSeat,
];

/// Under a sole that is stitched to a welt.
const UNDER_WELTED: &[Component] = &[
    Component::Insole,
    Component::Rib,
    Component::Filler,
    Component::Shank,
    Component::Welt,
    Component::LastingMargin,
    Component::Midsole,
    Component::HeelSeat,
];

/// Behind what a bag, a belt or anything else is closed with.
const IN_ITEM: &[Component] = &[Component::Lining, Component::Seam];

/// The parts that an operation lays open on goods of a kind; none for work that opens nothing, and for words this
/// version does not know.
pub fn exposes(operation: &str, goods: &Goods) -> &'static [Component] {
    use Component as P;
    match operation {
        "open_up" if goods.is_any_of(super::Class::PLAIN_ITEMS) => IN_ITEM,
        "open_up" | "sole_off" | "resole_cemented" | "resole_blake" => UNDER_SOLE,
        "resole_welted" | "resole_hand_welted" => UNDER_WELTED,
        "half_sole" | "toe_piece" => &[P::Outsole, P::Welt, P::Midsole],
        "sole_guard" | "recement_sole" | "restitch_sole" => &[P::Outsole, P::Welt],
        "raise_to_prescription" | "midsole_replacement" => &[P::Midsole, P::Filler, P::Shank],
        "top_piece_replacement" | "quarter_tips" => &[P::HeelBase, P::Lift],
        "cement_lifts" => &[P::HeelBase, P::Lift, P::HeelSeat],
        "heel_block_rebuild" | "heel_refix" => &[P::HeelBase, P::Lift, P::HeelSeat, P::Rand],
        "heel_cover" => &[P::HeelBase],
        "welt_piece" | "rewelt" => &[P::Welt, P::LastingMargin, P::Rib],
        "rand_repair" => &[P::Rand, P::LastingMargin],
        "rib_repair" => &[P::Rib, P::Insole],
        "shank_replacement" | "filler_replacement" => &[P::Shank, P::Filler, P::Insole],
        "insole_repair" => &[P::Insole, P::Filler],
        "sock_replacement" => &[P::Insole],
        "counter_rebuild" => &[P::Counter, P::Lining, P::HeelGrip],
        "puff_rebuild" => &[P::Puff, P::Lining],
        "lining_patch" | "heel_grip" => &[P::Lining, P::HeelGrip, P::Counter],
        "elastic_replacement" => &[P::Elastic, P::Lining],
        "zip_replacement" => &[P::Zip, P::Lining],
        "strap_replacement" | "buckle_replacement" => &[P::Strap],
        "strip_and_dye" => &[P::Upper],
        _ => &[],
    }
}

/// The parts that somebody has seen who knows how the opened shoe is put together.
pub const SEEN_WITH_CONSTRUCTION: &[Component] = &[Component::Insole, Component::Filler, Component::Shank];

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trade::operations::OPERATIONS;

    /// The usual hidden damage at teardown, by the operation that finds it: common practice, no source.
    #[test]
    fn the_usual_hidden_damage_is_where_it_is_looked_for() {
        use Component as P;
        for (operation, part) in [
            ("top_piece_replacement", P::HeelBase),
            ("half_sole", P::Welt),
            ("half_sole", P::Outsole),
            ("resole_cemented", P::Shank),
            ("resole_cemented", P::Filler),
            ("resole_cemented", P::Insole),
            ("resole_blake", P::Insole),
            ("resole_welted", P::Welt),
            ("resole_welted", P::Rib),
            ("resole_welted", P::Shank),
            ("resole_hand_welted", P::Rib),
            ("heel_block_rebuild", P::HeelSeat),
            ("welt_piece", P::LastingMargin),
            ("zip_replacement", P::Zip),
            ("strip_and_dye", P::Upper),
        ] {
            assert!(
                exposes(operation, &Goods::LowShoe).contains(&part),
                "{operation} {part}"
            );
        }
    }

    #[test]
    fn no_part_is_opened_twice() {
        for operation in OPERATIONS {
            for goods in Goods::KNOWN {
                let parts = exposes(operation.code, goods);
                for (at, part) in parts.iter().enumerate() {
                    assert!(!parts[..at].contains(part), "{} {part}", operation.code);
                }
            }
        }
    }

    #[test]
    fn a_bag_has_no_insole_and_polish_opens_nothing() {
        assert_eq!(exposes("open_up", &Goods::Bag), IN_ITEM);
        assert!(exposes("open_up", &Goods::Boot).contains(&Component::Insole));
        assert!(exposes("clean_condition_polish", &Goods::Boot).is_empty());
        assert!(exposes("bell repair", &Goods::Boot).is_empty());
    }
}
