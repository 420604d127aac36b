//! The cautions and hazards of an operation on given materials.

use super::cautions::Caution;
use super::hazards::{BLADES, CRUMBLES, DISSOLVES, DUST, HEAT, Hazard, LATEX, POINTS, PRESCRIBED};
use super::material::Material;
use super::operations::operation;

/// The cautions of an operation, the most important first. None for the shop's own operations, which are not known
/// here.
pub fn cautions(code: &str) -> &'static [Caution] {
    operation(code).map_or(&[], |known| known.cautions)
}

/// The hazards of an operation on these materials, the most important first. None for the shop's own operations and
/// materials, which are not known here.
pub fn hazards(code: &str, materials: &[Material]) -> Vec<&'static Hazard> {
    let mut found: Vec<&'static Hazard> = Vec::new();
    let Some(known) = operation(code) else {
        return found;
    };
    for caution in known.cautions {
        match caution {
            Caution::Prescription => found.push(&PRESCRIBED),
            Caution::Nails => found.push(&POINTS),
            Caution::Blades => found.push(&BLADES),
            Caution::Dust => found.push(&DUST),
            Caution::Solvent => found.extend(known.vapours),
        }
    }
    let solvent = known.cautions.contains(&Caution::Solvent);
    let of = |material: Material| materials.contains(&material);
    let by_material = [
        (
            solvent && (of(Material::CrepeSole) || of(Material::RubberSole)),
            &DISSOLVES,
        ),
        (solvent && of(Material::CrepeSole), &LATEX),
        (solvent && of(Material::Synthetic), &HEAT),
        (solvent && of(Material::FoamSole), &CRUMBLES),
    ];
    found.extend(
        by_material
            .into_iter()
            .filter(|(applies, _)| *applies)
            .map(|(_, hazard)| hazard),
    );
    found
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trade::hazards::{ACETONE, Defer, TURPENTINE};
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

    #[test]
    fn every_caution_has_a_hazard_behind_it_and_none_is_told_twice() {
        for known in operations() {
            let found = hazards(known.code, Material::KNOWN);
            assert!(found.len() >= known.cautions.len(), "{}", known.code);
            for (at, one) in found.iter().enumerate() {
                assert!(!found[..at].contains(one), "{} {}", known.code, one.from);
                assert!(
                    one.does.ends_with('.') && one.protection.ends_with('.'),
                    "{}",
                    one.from
                );
            }
        }
        assert!(hazards("bell repair", Material::KNOWN).is_empty());
    }

    #[test]
    fn what_a_repairer_must_be_told() {
        assert_eq!(hazards("raise_to_prescription", &[])[0].defer, Defer::Prescriber);
        assert_eq!(hazards("top_piece_replacement", &[])[0], &POINTS);
        assert!(hazards("strip_and_dye", &[]).contains(&&ACETONE));
        assert!(hazards("clean_condition_polish", &[]).contains(&&TURPENTINE));
        assert!(hazards("half_sole", &[Material::CrepeSole]).contains(&&DISSOLVES));
        assert!(!hazards("half_sole", &[Material::LeatherSole]).contains(&&DISSOLVES));
        assert!(hazards("half_sole", &[]).contains(&&DUST));
    }
}
