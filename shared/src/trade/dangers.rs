//! The cautions and hazards of an operation on given materials.

use super::cautions::{Caution, cautions_for};
use super::hazards::{
    BLADES, CERTIFIED, CRUMBLES, DISSOLVES, DUST, HEAT, HOT_AIR, Hazard, LATEX, MOULD, POINTS, PRESCRIBED,
    SWELLS, WATER_REPELLENT, primer_of,
};
use super::material::Material;
use super::operations::{Operation, Touch, operation};

/// The cautions of an operation, the most important first. None for the shop's own operations, which are not known
/// here.
pub fn cautions(code: &str) -> &'static [Caution] {
    operation(code).map_or(&[], |known| known.cautions)
}

/// The hazards of an operation on these materials, the most important first. None for the shop's own operations and
/// materials, which are not known here.
pub fn hazards(code: &str, materials: &[Material]) -> Vec<&'static Hazard> {
    let Some(known) = operation(code) else {
        return Vec::new();
    };
    let mut found: Vec<&'static Hazard> = Vec::new();
    for caution in cautions_for(code, None, materials) {
        match caution {
            Caution::Prescription => found.push(&PRESCRIBED),
            Caution::Nails => found.push(&POINTS),
            Caution::Blades => found.push(&BLADES),
            Caution::Dust => found.push(&DUST),
            Caution::Solvent => found.extend(known.vapours),
            Caution::Spray => found.push(&WATER_REPELLENT),
            Caution::Heat => found.push(&HOT_AIR),
            Caution::Primer => found.extend(primers(materials)),
            Caution::Safety => found.push(&CERTIFIED),
            Caution::Mould => found.push(&MOULD),
        }
    }
    found.extend(by_material(known, materials));
    found
}

/// The primers that these materials ask for, each once.
fn primers(materials: &[Material]) -> Vec<&'static Hazard> {
    let mut found: Vec<&'static Hazard> = Vec::new();
    for primer in materials.iter().filter_map(primer_of) {
        if !found.contains(&primer) {
            found.push(primer);
        }
    }
    found
}

/// What an operation does to some materials, or they to people.
fn by_material(known: &Operation, materials: &[Material]) -> impl Iterator<Item = &'static Hazard> {
    let solvent = known.cautions.contains(&Caution::Solvent);
    let heat = solvent || known.touch.contains(&Touch::Heat);
    let of = |some: &[Material]| materials.iter().any(|material| some.contains(material));
    let melts = [
        Material::Synthetic,
        Material::Coated,
        Material::EvaSole,
        Material::TprSole,
    ];
    let crepe = of(&[Material::CrepeSole]);
    let hazards = [
        (solvent && crepe, &DISSOLVES),
        (solvent && crepe, &LATEX),
        (solvent && of(&[Material::RubberSole]), &SWELLS),
        (heat && of(&melts), &HEAT),
        (heat && materials.iter().any(Material::hydrolyses), &CRUMBLES),
    ];
    hazards
        .into_iter()
        .filter(|(applies, _)| *applies)
        .map(|(_, hazard)| hazard)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trade::hazards::{ACETONE, Defer, EVA_PRIMER, HALOGENATION_PRIMER, TURPENTINE};
    use crate::trade::operations::{Station, operations};
    use crate::trade::waits::WaitKind;

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

    /// What is only washed or stretched hurts nobody.
    #[test]
    fn only_water_and_the_stretcher_are_harmless() {
        let harmless = operations().filter(|known| cautions(known.code).is_empty());
        assert_eq!(
            harmless.map(|known| known.code).collect::<Vec<_>>(),
            ["stretch", "wet_clean", "desalting"]
        );
        assert!(cautions("bell repair").is_empty());
    }

    #[test]
    fn every_caution_has_a_hazard_behind_it_and_none_is_told_twice() {
        for known in operations() {
            let found = hazards(known.code, Material::KNOWN);
            assert!(found.len() >= known.cautions.len(), "{}", known.code);
            for (at, one) in found.iter().enumerate() {
                assert!(!found[..at].contains(one), "{} {}", known.code, one.source());
                assert!(
                    one.does().ends_with('.') && one.protection().ends_with('.'),
                    "{}",
                    one.source()
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
        assert!(!hazards("half_sole", &[Material::RubberSole]).contains(&&DISSOLVES));
        assert!(hazards("half_sole", &[Material::RubberSole]).contains(&&SWELLS));
        assert_eq!(hazards("water_repellent", &[]), [&WATER_REPELLENT]);
        assert_eq!(hazards("mould_treatment", &[]), [&MOULD]);
        assert!(hazards("half_sole", &[]).contains(&&DUST));
    }

    #[test]
    fn the_primer_of_a_sole_is_named() {
        let primes = |sole: &Material| {
            let found = hazards("recement_sole", std::slice::from_ref(sole));
            (
                found.contains(&&HALOGENATION_PRIMER),
                found.contains(&&EVA_PRIMER),
            )
        };
        assert_eq!(primes(&Material::RubberSole), (true, false));
        assert_eq!(primes(&Material::TprSole), (true, false));
        assert_eq!(primes(&Material::EvaSole), (false, true));
        assert_eq!(primes(&Material::LeatherSole), (false, false));
    }

    #[test]
    fn old_pu_crumbles_and_eva_melts() {
        for (sole, crumbles, melts) in [
            (Material::PuSole, true, false),
            (Material::FoamSole, true, false),
            (Material::EvaSole, false, true),
            (Material::RubberSole, false, false),
        ] {
            for code in ["recement_sole", "sole_off"] {
                let found = hazards(code, std::slice::from_ref(&sole));
                assert_eq!(found.contains(&&CRUMBLES), crumbles, "{code} {sole}");
                assert_eq!(found.contains(&&HEAT), melts, "{code} {sole}");
            }
        }
        assert!(hazards("sole_off", &[Material::PuSole]).contains(&&HOT_AIR));
    }
}
