//! The kinds of goods that the price list distinguishes.
//!
//! Common practice, no source.

use super::worded::worded;

worded!(
    /// The kind of shoe or other goods: a column of the price list.
    Goods {
        /// Any shoe below the ankle that is not one of the others.
        LowShoe = "low_shoe", "Low shoe";
        /// Ankle boots and higher.
        Boot = "boot", "Boot";
        /// Boots and shoes for hills and work, with a heavy sole.
        WalkingBoot = "walking_boot", "Walking boot";
        /// Light shoes with a covered or slender heel.
        CourtShoe = "court_shoe", "Court shoe";
        /// Shoes for dancing: thin, flexible soles.
        DanceShoe = "dance_shoe", "Dance shoe";
        /// Open shoes.
        Sandal = "sandal", "Sandal";
        /// Any shoe in a child's size.
        Child = "child", "Child's shoe";
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
            | Goods::Child => Some(Class::Footwear),
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
