//! The construction of a shoe. Until the shoe is opened it is a guess; "not known yet" is the absence of a
//! construction, not a value of it.
//!
//! Common practice, no source.

use super::usage::in_usage;
use super::worded::worded;

worded!(
    /// How upper, insole and sole are joined.
    Construction {
        /// One through-stitch inside the shoe.
        Blake = "blake", "Blake";
        /// Through-stitched midsole, lockstitched outsole.
        BlakeRapid = "blake_rapid", "Blake-rapid";
        /// Welt sewn by machine to a rib.
        MachineWelted = "machine_welted", "Machine-welted (Goodyear)";
        /// Welt sewn by hand to a holdfast.
        HandWelted = "hand_welted", "Hand-welted";
        /// Welt with a raised edge against the upper: a kind of welt, sewn by machine or by hand.
        StormWelted = "storm_welted", "Storm-welted";
        /// Outsole glued on.
        Cemented = "cemented", "Cemented";
        /// Upper closed by a sewn-in cloth sole, outsole glued on.
        Strobel = "strobel", "Strobel";
        /// Cup-shaped sole round the upper, mostly with a seam in its side wall.
        Cupsole = "cupsole", "Cupsole";
        /// Two visible seams.
        Norwegian = "norwegian", "Norwegian";
        /// Lining closed as a tube.
        Bologna = "bologna", "Bologna";
        /// Upper flanged outward.
        Stitchdown = "stitchdown", "Stitchdown";
        /// Upper wraps under the foot.
        Moccasin = "moccasin", "Moccasin";
        /// Sewn inside out.
        Turned = "turned", "Turned";
        /// Metal or wooden pins.
        Nailed = "nailed", "Nailed or pegged";
        /// Upper fixed to the edge of a wooden sole.
        WoodenClog = "wooden_clog", "Wooden clog";
        /// Sole injected on to the upper in a mould.
        Injected = "injected", "Injected sole";
        /// Rubber sole cured on the upper by heat.
        Vulcanised = "vulcanised", "Vulcanised";
        /// Sole formed on the upper, in whichever way: an older word, read but no longer offered.
        Moulded = "moulded", "Moulded or vulcanised";
    }
);

/// What holds the outsole.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SoleHeldBy {
    /// A seam.
    Stitch,
    /// Cement alone.
    Cement,
    /// Nails or pegs.
    Pins,
    /// The sole itself, formed on the upper; in repair it is cemented or patched.
    Moulding,
    /// A seam or cement, which has to be determined for each shoe.
    Either,
}

impl Construction {
    /// The constructions to choose from: all known ones but [`Construction::Moulded`], an older word for two of them.
    pub fn offered() -> impl Iterator<Item = &'static Construction> + Clone {
        Construction::KNOWN
            .iter()
            .filter(|one| **one != Construction::Moulded)
    }

    /// What the construction is, in one plain sentence; empty for a word this version does not know.
    pub fn plain(&self) -> &'static str {
        in_usage(match self {
            Construction::Blake => "One seam inside the shoe joins insole, upper and outsole.",
            Construction::BlakeRapid => {
                "A midsole is stitched through from inside, and the outsole is stitched to it."
            }
            Construction::MachineWelted => {
                "A welt is sewn by machine to a rib on the insole, and the outsole is stitched to it."
            }
            Construction::HandWelted => {
                "A welt is sewn by hand to a holdfast cut in the insole, and the outsole is stitched to it."
            }
            Construction::StormWelted => {
                "A welt with a raised edge against the upper is sewn on, and the outsole is stitched to it."
            }
            Construction::Cemented => "The outsole is glued to the upper where it is turned under.",
            Construction::Strobel => {
                "The upper is closed with a sewn-in cloth sole, and the outsole is glued to both."
            }
            Construction::Cupsole => {
                "The sole is a cup round the upper, glued on and mostly stitched through its side wall."
            }
            Construction::Norwegian => {
                "The upper is turned out and sewn with two visible seams, to the insole and to the sole."
            }
            Construction::Bologna => {
                "The lining is closed like a tube and the sole is stitched through, without a full insole."
            }
            Construction::Stitchdown => "The upper is turned outward and stitched down to the sole.",
            Construction::Moccasin => "The upper wraps under the foot, with a plug sewn on top.",
            Construction::Turned => "The shoe is sewn inside out and then turned.",
            Construction::Nailed => "The sole is held by metal nails or wooden pegs.",
            Construction::WoodenClog => "The upper is nailed or stapled to the edge of a wooden sole.",
            Construction::Injected => "The sole was injected on to the upper in a mould.",
            Construction::Vulcanised => "The rubber sole was cured on the upper by heat.",
            Construction::Moulded => "The sole was formed on the upper.",
            Construction::Other(_) => "",
        })
    }

    /// What holds the outsole; `None` for a word this version does not know.
    pub fn sole_held_by(&self) -> Option<SoleHeldBy> {
        match self {
            Construction::Blake
            | Construction::BlakeRapid
            | Construction::MachineWelted
            | Construction::HandWelted
            | Construction::StormWelted
            | Construction::Norwegian
            | Construction::Bologna
            | Construction::Stitchdown
            | Construction::Turned => Some(SoleHeldBy::Stitch),
            Construction::Cemented | Construction::Strobel => Some(SoleHeldBy::Cement),
            Construction::Nailed | Construction::WoodenClog => Some(SoleHeldBy::Pins),
            Construction::Injected | Construction::Vulcanised | Construction::Moulded => {
                Some(SoleHeldBy::Moulding)
            }
            Construction::Moccasin | Construction::Cupsole => Some(SoleHeldBy::Either),
            Construction::Other(_) => None,
        }
    }

    /// Whether a seam holds the outsole.
    pub fn is_stitched(&self) -> bool {
        self.sole_held_by() == Some(SoleHeldBy::Stitch)
    }

    /// Whether cement alone holds the outsole.
    pub fn is_cemented(&self) -> bool {
        self.sole_held_by() == Some(SoleHeldBy::Cement)
    }

    /// Whether this is another construction than `other`, so that work has turned one into the other. Two moulded ones
    /// do not differ: no repair makes one, and [`Construction::Moulded`] stands for each of them.
    pub fn differs_from(&self, other: &Construction) -> bool {
        let moulded = |one: &Construction| one.sole_held_by() == Some(SoleHeldBy::Moulding);
        self != other && !(moulded(self) && moulded(other))
    }

    /// The operation that usually replaces the sole in the same construction, if there is one.
    pub fn usual_resole(&self) -> Option<&'static str> {
        match self {
            Construction::Blake | Construction::Bologna => Some("resole_blake"),
            Construction::BlakeRapid
            | Construction::MachineWelted
            | Construction::StormWelted
            | Construction::Norwegian
            | Construction::Stitchdown => Some("resole_welted"),
            Construction::HandWelted => Some("resole_hand_welted"),
            Construction::Cemented
            | Construction::Strobel
            | Construction::Injected
            | Construction::Vulcanised
            | Construction::Moulded => Some("resole_cemented"),
            Construction::Cupsole => Some("trainer_sole"),
            // Under a wooden sole new rubber is nailed or cemented; the wood itself stays.
            Construction::Moccasin
            | Construction::Turned
            | Construction::Nailed
            | Construction::WoodenClog
            | Construction::Other(_) => None,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trade::operation;

    #[test]
    fn every_construction_says_what_it_is_and_what_holds_it() {
        for (at, one) in Construction::KNOWN.iter().enumerate() {
            assert!(one.plain().ends_with('.'), "{one}");
            assert!(one.sole_held_by().is_some(), "{one}");
            assert!(
                one.usual_resole().is_none_or(|code| operation(code).is_some()),
                "{one}"
            );
            let before = &Construction::KNOWN[..at];
            assert!(before.iter().all(|other| other.plain() != one.plain()), "{one}");
        }
    }

    #[test]
    fn an_older_word_is_read_but_not_offered() {
        let old = Construction::from("moulded");
        assert_eq!((old.as_str(), old.words()), ("moulded", "Moulded or vulcanised"));
        assert_eq!(old.sole_held_by(), Some(SoleHeldBy::Moulding));
        assert!(Construction::offered().all(|one| *one != old));
        assert_eq!(Construction::offered().count() + 1, Construction::KNOWN.len());
    }

    /// Which of them a trainer has decides what can be promised: common practice, no source.
    #[test]
    fn soles_that_look_alike_are_told_apart() {
        use SoleHeldBy::{Cement, Either, Moulding, Pins, Stitch};
        for (code, held, resole) in [
            ("storm_welted", Stitch, Some("resole_welted")),
            ("strobel", Cement, Some("resole_cemented")),
            ("cupsole", Either, Some("trainer_sole")),
            ("wooden_clog", Pins, None),
            ("injected", Moulding, Some("resole_cemented")),
            ("vulcanised", Moulding, Some("resole_cemented")),
        ] {
            let one = Construction::from(code);
            assert_eq!(
                (one.sole_held_by(), one.usual_resole()),
                (Some(held), resole),
                "{code}"
            );
        }
    }

    #[test]
    fn only_what_a_repair_can_have_changed_differs() {
        let differs = |one: &str, other: &str| Construction::from(one).differs_from(&other.into());
        assert!(differs("blake", "cemented") && differs("blake", "blake_rapid"));
        assert!(differs("cemented", "vulcanised"), "glued on again");
        assert!(!differs("blake", "blake"));
        assert!(!differs("injected", "moulded"), "an older word for it");
    }

    #[test]
    fn a_stitched_shoe_is_not_given_a_cemented_sole_unasked() {
        for one in Construction::KNOWN.iter().filter(|one| one.is_stitched()) {
            assert_ne!(one.usual_resole(), Some("resole_cemented"), "{one}");
        }
        let newer = Construction::from("welded");
        assert!(!newer.is_stitched() && !newer.is_cemented());
        assert_eq!((newer.words(), newer.plain()), ("welded", ""));
    }
}
