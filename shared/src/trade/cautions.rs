//! Cautions: a short line of warning at the step, shown in full to a person or for a material new to the work.
//!
//! The usual terms of the trade, common practice, no source; except the hazard of dust: IARC Monographs,
//! Supplement 7 (1987), p. 232 (boot and shoe manufacture and repair, group 1), and volume 100C (2012, leather
//! dust, group 1). Local rules and the product's own safety sheet come first, and every caution ends by saying
//! so.

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
    /// The caution in one short line.
    pub const fn line(self) -> &'static str {
        match self {
            Caution::Solvent => "Solvent: air, no flame, gloves, lid on.",
            Caution::Dust => "Dust: extraction on and mask.",
            Caution::Nails => "No point may come through: feel by hand.",
            Caution::Blades => "Blade and machine: hands clear, nothing loose.",
            Caution::Prescription => "Only to a prescription.",
        }
    }

    /// The caution in full.
    pub const fn full(self) -> &'static str {
        match self {
            Caution::Solvent => deferring!(
                "Cement, acetone, turpentine and dye thinner give off vapour that burns and harms. Ventilate; no \
                 flame, no spark, no smoking. Wear gloves: some cements and hardeners make skin and lungs allergic. Keep \
                 lids on. Rags go wet into a closed metal waste tin. Try dye and acetone on a hidden spot; \
                 solvent dissolves crepe and rubber."
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
                 prescription. Ask the prescriber before you change anything."
            ),
        }
    }
}
