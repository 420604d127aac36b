//! Where work can hurt: one quiet line at the step, opened fully for a person or a material new to it.
//!
//! The usual terms of the trade, common practice, no source; except the hazard of dust: IARC Monographs,
//! Supplement 7 (1987), p. 232 (boot and shoe manufacture and repair, group 1), and volume 100C (2012, leather
//! dust, group 1). Local rules and the product's own safety sheet come first, and every caution ends by saying
//! so.

use super::operations::operation;

/// A way in which work can hurt.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Caution {
    /// Vapour and fire of cement, thinner and dye.
    Solvent,
    /// What grinding and sanding throws up.
    Dust,
    /// Points that come through.
    Nails,
    /// Knives, awls, needles and machines.
    Blades,
    /// Work that a prescriber decides.
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
    /// The quiet line.
    pub const fn line(self) -> &'static str {
        match self {
            Caution::Solvent => "Solvent: air, no flame, gloves, lid on.",
            Caution::Dust => "Dust: extraction on and mask.",
            Caution::Nails => "No point may come through: feel by hand.",
            Caution::Blades => "Blade and machine: hands clear, nothing loose.",
            Caution::Prescription => "Only to a prescription.",
        }
    }

    /// The usual caution in full.
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

/// What to mind at an operation, the most important first. Nothing for the shop's own operations: what they
/// need is not known here.
pub fn cautions(code: &str) -> &'static [Caution] {
    operation(code).map_or(&[], |known| known.cautions)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trade::operations::{Station, operations};
    use crate::trade::waits::WaitKind;

    const ALL: [Caution; 5] = [
        Caution::Solvent,
        Caution::Dust,
        Caution::Nails,
        Caution::Blades,
        Caution::Prescription,
    ];

    #[test]
    fn wherever_cement_or_dye_dries_there_is_vapour() {
        for known in operations() {
            let vapour = known.waits.iter().any(|wait| {
                matches!(
                    wait.kind,
                    WaitKind::CementTouchDry
                        | WaitKind::CementFullBond
                        | WaitKind::StiffenerPaste
                        | WaitKind::DyeCoat
                        | WaitKind::DyeOvernight
                        | WaitKind::Ink
                )
            });
            assert!(
                !vapour || cautions(known.code).contains(&Caution::Solvent),
                "{}",
                known.code
            );
        }
    }

    #[test]
    fn stitching_and_cutting_show_blades_and_nailing_shows_points() {
        for known in operations() {
            let shown = cautions(known.code);
            let sharp = matches!(known.station, Station::Strip | Station::Stitch | Station::Trim);
            assert!(!sharp || shown.contains(&Caution::Blades), "{}", known.code);
        }
        for code in [
            "top_piece_replacement",
            "heel_block_rebuild",
            "cement_lifts",
            "heel_refix",
            "quarter_tips",
        ] {
            assert_eq!(cautions(code).first(), Some(&Caution::Nails), "{code}");
        }
        assert_eq!(cautions("edge_trim_ink").first(), Some(&Caution::Dust));
        assert_eq!(
            cautions("raise_to_prescription").first(),
            Some(&Caution::Prescription)
        );
    }

    #[test]
    fn every_caution_is_quiet_first_and_defers_at_the_end() {
        for caution in ALL {
            assert!(caution.line().len() <= 48, "{}", caution.line());
            assert!(
                caution.full().ends_with("safety sheet come first."),
                "{caution:?}"
            );
            assert!(
                operations().any(|known| cautions(known.code).contains(&caution)),
                "{caution:?}"
            );
        }
        assert!(Caution::Dust.full().contains("group 1") && Caution::Dust.full().contains("Extraction"));
        assert!(cautions("bell repair").is_empty());
    }

    #[test]
    fn only_stretching_is_harmless() {
        let harmless = operations().filter(|known| cautions(known.code).is_empty());
        assert_eq!(harmless.map(|known| known.code).collect::<Vec<_>>(), ["stretch"]);
    }
}
