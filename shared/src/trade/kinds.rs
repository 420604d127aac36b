//! The kinds of goods that the price list distinguishes.
//!
//! Common practice, no source.

use super::worded::worded;

worded!(
    /// The kind of shoe or other goods: a column of the price list, in this order.
    Goods {
        /// Any shoe below the ankle that is not one of the others.
        LowShoe = "low_shoe", "Shoe";
        /// Ankle boots.
        Boot = "boot", "Boot";
        /// Boots and shoes for hills, with a heavy sole.
        WalkingBoot = "walking_boot", "Walking boot";
        /// Light shoes with a covered or slender heel.
        CourtShoe = "court_shoe", "Court shoe";
        /// Shoes for dancing: thin, flexible soles.
        DanceShoe = "dance_shoe", "Dance shoe";
        /// Open shoes.
        Sandal = "sandal", "Sandal";
        /// Any shoe in a child's size.
        Child = "child", "Child's shoe";
        /// Sports shoes with a soft, cemented or cup-shaped sole.
        Trainer = "trainer", "Trainer";
        /// Boots with a leg to the calf or the knee.
        LongBoot = "long_boot", "Long boot";
        /// Footwear that protects at work, with a toe cap. A repair of sole or toe cap can end its certification, and
        /// of the insoles only one that the maker supplies or names keeps it: ask the maker (ISO 20345, information
        /// for users; only secondary texts were seen).
        SafetyBoot = "safety_boot", "Safety boot";
        /// Footwear made or changed for one foot, to a prescription.
        Orthopaedic = "orthopaedic", "Orthopaedic shoe";
        /// Shoes for climbing: tight, with sticky rubber and a rand all round.
        ClimbingShoe = "climbing_shoe", "Climbing shoe";
        /// Shoes on a sole of wood or cork.
        Clog = "clog", "Clog";
        /// Belts.
        Belt = "belt", "Belt";
        /// Bags and cases.
        Bag = "bag", "Bag";
        /// Anything else that is brought.
        OtherGoods = "other", "Other";
    }
);

/// A rough class of goods, by what operations can be done to them.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Class {
    /// Shoes and boots of every kind.
    Footwear,
    /// Belts.
    Belt,
    /// Bags and cases.
    Bag,
    /// Anything else.
    Other,
}

impl Class {
    /// Shoes and boots only.
    pub const FOOTWEAR: &'static [Class] = &[Class::Footwear];
    /// Everything but shoes and boots.
    pub const PLAIN_ITEMS: &'static [Class] = &[Class::Belt, Class::Bag, Class::Other];
    /// Everything.
    pub const ANY: &'static [Class] = &[Class::Footwear, Class::Belt, Class::Bag, Class::Other];
}

impl Goods {
    /// Its class; `None` for a kind this version does not know, to which any operation may be done.
    pub fn class(&self) -> Option<Class> {
        match self {
            Goods::LowShoe
            | Goods::Boot
            | Goods::WalkingBoot
            | Goods::CourtShoe
            | Goods::DanceShoe
            | Goods::Sandal
            | Goods::Child
            | Goods::Trainer
            | Goods::LongBoot
            | Goods::SafetyBoot
            | Goods::Orthopaedic
            | Goods::ClimbingShoe
            | Goods::Clog => Some(Class::Footwear),
            Goods::Belt => Some(Class::Belt),
            Goods::Bag => Some(Class::Bag),
            Goods::OtherGoods => Some(Class::Other),
            Goods::Other(_) => None,
        }
    }

    /// Whether it is one of `classes`. A kind this version does not know may be any of them.
    pub fn is_any_of(&self, classes: &[Class]) -> bool {
        self.class().is_none_or(|class| classes.contains(&class))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn kinds_of_a_newer_app_are_offered_everything() {
        let hat = Goods::from("hat");
        assert_eq!((hat.words(), hat.class()), ("hat", None));
        assert!(hat.is_any_of(Class::FOOTWEAR) && hat.is_any_of(&[Class::Belt]));
        assert!(!Goods::Belt.is_any_of(Class::FOOTWEAR));
    }

    /// The rows of the price list are written in this order.
    #[test]
    fn the_columns_of_the_price_list_stand_in_their_order() {
        let codes: Vec<_> = Goods::KNOWN.iter().map(Goods::as_str).collect();
        assert_eq!(
            codes,
            [
                "low_shoe",
                "boot",
                "walking_boot",
                "court_shoe",
                "dance_shoe",
                "sandal",
                "child",
                "trainer",
                "long_boot",
                "safety_boot",
                "orthopaedic",
                "climbing_shoe",
                "clog",
                "belt",
                "bag",
                "other"
            ]
        );
    }

    #[test]
    fn every_known_kind_has_a_class_and_a_word_of_its_own() {
        for (at, goods) in Goods::KNOWN.iter().enumerate() {
            assert!(goods.class().is_some(), "{goods}");
            assert!(
                Goods::KNOWN[..at]
                    .iter()
                    .all(|other| other.words() != goods.words()),
                "{goods}"
            );
        }
    }
}
