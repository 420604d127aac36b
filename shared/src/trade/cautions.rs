//! Cautions: a short line of warning at the step, shown in full to a person or for a material new to the work.
//!
//! The usual terms of the trade, common practice, no source; except these. Dust: IARC Monographs, Supplement 7
//! (1987), p. 232 (boot and shoe manufacture and repair, group 1), and volume 100C (2012, leather dust, group 1).
//! Sprays against water: CDC MMWR, mm5517a5 (172 human exposures in one outbreak of 2005 to 2006) and 00022198 (an
//! earlier cluster). Safety footwear: the information for users of ISO 20345, read in secondary texts only. Local
//! rules and the product's own safety sheet come first, and every caution ends by saying so.

mod by_goods;

use super::usage::in_usage;

pub use by_goods::cautions_for;

/// A way in which work can injure.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Caution {
    /// Vapour and fire, from cement, thinner and dye.
    Solvent,
    /// Dust, from grinding and sanding.
    Dust,
    /// Points of nails that come through.
    Nails,
    /// Knives, awls, needles and machines.
    Blades,
    /// Work that only the prescriber may change.
    Prescription,
    /// A spray against water, which is breathed in.
    Spray,
    /// Hot air, on old soles and cement.
    Heat,
    /// What a primer gives off: chlorine, solvent, isocyanate.
    Primer,
    /// Footwear that protects at work, whose certification a repair can end.
    Safety,
    /// Spores, and what is used against mould and smells.
    Mould,
}

macro_rules! deferring {
    ($text:literal) => {
        concat!(
            $text,
            " Local rules and the product's own safety sheet come first."
        )
    };
}

impl Caution {
    /// Every caution, for the tests.
    #[cfg(test)]
    pub(super) const ALL: [Self; 10] = [
        Caution::Solvent,
        Caution::Dust,
        Caution::Nails,
        Caution::Blades,
        Caution::Prescription,
        Caution::Spray,
        Caution::Heat,
        Caution::Primer,
        Caution::Safety,
        Caution::Mould,
    ];

    /// The caution in one short line.
    pub fn line(self) -> &'static str {
        in_usage(match self {
            Caution::Solvent => "Solvent: air, no flame, gloves, lid on.",
            Caution::Dust => "Dust: extraction on and mask.",
            Caution::Nails => "No point may come through: feel by hand.",
            Caution::Blades => "Blade and machine: hands clear, nothing loose.",
            Caution::Prescription => "Only to a prescription.",
            Caution::Spray => "Spray: outdoors, never in a closed room.",
            Caution::Heat => "Hot air: never overheat; ventilate, gloves.",
            Caution::Primer => "Primer: ventilate, gloves and glasses.",
            Caution::Safety => "Safety footwear: ask the maker first.",
            Caution::Mould => "Mould: outside, mask and gloves.",
        })
    }

    /// The caution in full.
    pub fn full(self) -> &'static str {
        in_usage(match self {
            Caution::Solvent => deferring!(
                "Cement, acetone, turpentine and dye thinner give off vapour that burns and harms. Ventilate; no \
                 flame, no spark, no smoking. Wear gloves: some cements and hardeners make skin and lungs \
                 allergic. Keep lids on. Rags go wet into a closed metal waste tin. Try dye and acetone on a hidden \
                 spot. Solvent softens and dissolves crepe. Vulcanised rubber only swells at its surface: it is \
                 roughened and primed."
            ),
            Caution::Dust => deferring!(
                "Sanding and trimming throw up dust of leather, rubber and old finishes. Extraction on, mask on, \
                 before the first touch of the wheel. Boot and shoe repair, and leather dust, are in group 1 of \
                 the IARC: known to cause cancer in people."
            ),
            Caution::Nails => deferring!(
                "No point may come through, neither into the shoe nor out of the top piece. Choose the length by \
                 direction: it ends inside the heel. The final check is by hand, inside, left and right."
            ),
            Caution::Blades => deferring!(
                "Cut away from the hand that holds. Awls and needles slip: keep the other hand out of their line. \
                 At a machine: glasses on, sleeves, hair and laces tied back, off before you reach in."
            ),
            Caution::Prescription => deferring!(
                "A lift for a leg-length difference, or any change to orthopaedic footwear, is made only to a \
                 prescription. Heights stay as prescribed: left and right are never levelled. Ask the prescriber \
                 before you change anything."
            ),
            Caution::Spray => deferring!(
                "The first hazard of a spray against water is breathing it in: in one outbreak of 2005 to 2006, 172 \
                 people were exposed. Spray outdoors or under extraction, never in a closed room, away from the face \
                 and from any flame. Leave the pair in the open until it is dry."
            ),
            Caution::Heat => deferring!(
                "Hot air burns the hand. Old PU and unknown foams give off harmful fumes when they are heated. \
                 Ventilate, wear gloves, keep the heat moving, and use no more than loosens the cement. Never \
                 overheat: stop at the first smoke or sharp smell."
            ),
            Caution::Primer => deferring!(
                "Primer for rubber and TPR (halogenation primer) releases chlorine, which harms eyes, nose and lungs. \
                 Primer for EVA, also one that UV light sets, can hold isocyanate, which makes lungs and skin \
                 allergic. The solvent of both burns. Ventilate; no flame; gloves and glasses. Keep them from acids \
                 and cleaners, and let them dry out before the cement goes on. Never look into a UV lamp."
            ),
            Caution::Safety => deferring!(
                "A repair of safety footwear, above all of sole or toe cap, can end its certification. Of the insoles, \
                 only one that the maker supplies or names keeps it. Ask the maker before you begin, and tell the \
                 owner."
            ),
            Caution::Mould => deferring!(
                "Mould gives off spores that harm lungs and eyes: brush it off outside, with mask, glasses and gloves, \
                 away from other work. Sprays against mould and smells, and ozone, irritate too: air the pair well \
                 before anyone bends over it."
            ),
        })
    }
}

#[cfg(test)]
mod tests;
