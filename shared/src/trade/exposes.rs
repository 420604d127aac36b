//! Which parts an operation opens to view, which could not be seen when the price was agreed.
//!
//! Common practice, no source.

use super::component::Component;
use super::kinds::{Class, Goods};
use super::operations::operation;

/// The parts that an operation exposes on goods of a kind; none for an operation that opens nothing, and for words this
/// version does not know.
pub fn exposes(code: &str, goods: &Goods) -> &'static [Component] {
    operation(code).map_or(&[], |known| {
        if goods.is_any_of(Class::PLAIN_ITEMS) {
            known.exposes.item
        } else {
            known.exposes.shoe
        }
    })
}

/// The parts that have been seen if the construction is known from opening the shoe.
pub const SEEN_WITH_CONSTRUCTION: &[Component] = &[Component::Insole, Component::Filler, Component::Shank];

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trade::operations::columns::IN_ITEM;
    use crate::trade::operations::operations;

    /// The usual hidden damage, by the operation that finds it: common practice, no source.
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
        for operation in operations() {
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
