//! The construction of a shoe. Until the shoe is opened it is a guess; "not known yet" is the absence of a
//! construction, not a value of it.
//!
//! Common practice, no source.

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
        /// Outsole glued on.
        Cemented = "cemented", "Cemented";
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
        /// Sole formed on the upper.
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
    /// What the construction is, in one plain sentence; empty for a word this version does not know.
    pub fn plain(&self) -> &'static str {
        match self {
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
            Construction::Cemented => "The outsole is glued to the upper where it is turned under.",
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
            Construction::Moulded => "The sole was formed on the upper.",
            Construction::Other(_) => "",
        }
    }

    /// What holds the outsole; `None` for a word this version does not know.
    pub fn sole_held_by(&self) -> Option<SoleHeldBy> {
        match self {
            Construction::Blake
            | Construction::BlakeRapid
            | Construction::MachineWelted
            | Construction::HandWelted
            | Construction::Norwegian
            | Construction::Bologna
            | Construction::Stitchdown
            | Construction::Turned => Some(SoleHeldBy::Stitch),
            Construction::Cemented => Some(SoleHeldBy::Cement),
            Construction::Nailed => Some(SoleHeldBy::Pins),
            Construction::Moulded => Some(SoleHeldBy::Moulding),
            Construction::Moccasin => Some(SoleHeldBy::Either),
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

    /// The operation that usually replaces the sole in the same construction, if there is one.
    pub fn usual_resole(&self) -> Option<&'static str> {
        match self {
            Construction::Blake | Construction::Bologna => Some("resole_blake"),
            Construction::BlakeRapid
            | Construction::MachineWelted
            | Construction::Norwegian
            | Construction::Stitchdown => Some("resole_welted"),
            Construction::HandWelted => Some("resole_hand_welted"),
            Construction::Cemented | Construction::Moulded => Some("resole_cemented"),
            Construction::Moccasin | Construction::Turned | Construction::Nailed | Construction::Other(_) => {
                None
            }
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
    fn a_stitched_shoe_is_not_given_a_cemented_sole_unasked() {
        for one in Construction::KNOWN.iter().filter(|one| one.is_stitched()) {
            assert_ne!(one.usual_resole(), Some("resole_cemented"), "{one}");
        }
        let newer = Construction::from("welded");
        assert!(!newer.is_stitched() && !newer.is_cemented());
        assert_eq!((newer.words(), newer.plain()), ("welded", ""));
    }
}
