use super::*;
use crate::trade::kinds::Goods;
use crate::trade::material::Material;
use crate::trade::operations::operations;

#[test]
fn every_caution_is_short_first_and_defers_at_the_end() {
    for (at, caution) in Caution::ALL.iter().enumerate() {
        assert!(caution.line().len() <= 48, "{}", caution.line());
        assert!(
            caution.full().ends_with("safety sheet come first."),
            "{caution:?}"
        );
        assert!(
            Caution::ALL[..at]
                .iter()
                .all(|other| other.line() != caution.line())
        );
        let shown = |code| {
            let mut kinds = Goods::KNOWN.iter();
            kinds.any(|goods| cautions_for(code, Some(goods), Material::KNOWN).contains(caution))
        };
        assert!(operations().any(|known| shown(known.code)), "{caution:?}");
    }
    // IARC: Supplement 7 and volume 100C.
    assert!(Caution::Dust.full().contains("group 1") && Caution::Dust.full().contains("Extraction"));
}

/// CDC MMWR, mm5517a5: breathing it in is the first hazard; 172 human exposures in one outbreak of 2005 to 2006.
#[test]
fn a_spray_against_water_is_not_breathed_in_before_anything_else() {
    for goods in [None, Some(&Goods::LowShoe), Some(&Goods::Bag)] {
        let shown = cautions_for("water_repellent", goods, &[Material::Suede]);
        assert_eq!(shown[0], Caution::Spray, "{shown:?}");
    }
    let full = Caution::Spray.full();
    for words in ["172", "outdoors", "never in a closed room"] {
        assert!(full.contains(words), "{words}");
    }
}

/// The information for users of ISO 20345, read in secondary texts: repair can end the certification.
#[test]
fn safety_footwear_is_asked_about_first_whatever_is_done_to_it() {
    let boot = Some(&Goods::SafetyBoot);
    for known in operations().filter(|known| known.fits(&Goods::SafetyBoot)) {
        let shown = cautions_for(known.code, boot, &[]);
        assert_eq!(shown[0], Caution::Safety, "{}", known.code);
    }
    assert_eq!(cautions_for("bell repair", boot, &[]), [Caution::Safety]);
    assert!(Caution::Safety.full().contains("the maker supplies or names"));
    let shown = cautions_for("half_sole", Some(&Goods::Boot), &[Material::RubberSole]);
    assert!(!shown.contains(&Caution::Safety));
}

#[test]
fn orthopaedic_footwear_is_left_at_its_heights() {
    let shown = cautions_for(
        "top_piece_replacement",
        Some(&Goods::Orthopaedic),
        &[Material::RubberSole],
    );
    assert_eq!(shown[0], Caution::Prescription);
    let shown = cautions_for("raise_to_prescription", Some(&Goods::Orthopaedic), &[]);
    assert_eq!(
        shown.iter().filter(|one| **one == Caution::Prescription).count(),
        1
    );
    assert!(Caution::Prescription.full().contains("never levelled"));
}

/// Crepe is raw rubber and dissolves; vulcanised rubber does not. Common practice, no source.
#[test]
fn crepe_and_vulcanised_rubber_are_told_apart() {
    let on = |sole: Material| cautions_for("top_piece_replacement", None, &[sole]);
    assert_eq!(on(Material::CrepeSole)[0], Caution::Solvent);
    assert_eq!(on(Material::RubberSole)[0], Caution::Nails);
    let full = Caution::Solvent.full();
    assert!(full.contains("dissolves crepe.") && full.contains("rubber only swells"));
}

#[test]
fn hot_air_is_warned_of_where_the_old_sole_may_not_stand_it() {
    let warned = |code: &str, goods: Option<&Goods>, materials: &[Material]| {
        cautions_for(code, goods, materials).contains(&Caution::Heat)
    };
    for sole in [
        Material::PuSole,
        Material::EvaSole,
        Material::FoamSole,
        Material::TprSole,
    ] {
        for code in ["sole_off", "resole_cemented"] {
            let pair = [Material::SmoothLeather, sole.clone()];
            assert!(warned(code, None, &pair), "{code} on {sole}");
        }
    }
    assert!(
        warned("sole_off", None, &[Material::SmoothLeather]),
        "the sole is not known"
    );
    assert!(!warned("sole_off", None, &[Material::LeatherSole]));
    assert!(!warned("clean_condition_polish", None, &[Material::PuSole]));
    assert!(!warned("sole_off", Some(&Goods::Boot), &[Material::RubberSole]));
    assert!(warned(
        "sole_off",
        Some(&Goods::ClimbingShoe),
        &[Material::RubberSole]
    ));
}

#[test]
fn rubber_and_plastics_that_are_cemented_are_primed() {
    for sole in [Material::RubberSole, Material::TprSole, Material::EvaSole] {
        let shown = cautions_for("recement_sole", None, std::slice::from_ref(&sole));
        assert_eq!(shown.last(), Some(&Caution::Primer), "{sole}");
    }
    for (code, sole) in [
        ("recement_sole", Material::LeatherSole),
        ("sole_off", Material::TprSole),
    ] {
        assert!(
            !cautions_for(code, None, &[sole]).contains(&Caution::Primer),
            "{code}"
        );
    }
}

#[test]
fn mould_and_smells_have_their_caution() {
    for code in ["mould_treatment", "odour_treatment"] {
        assert_eq!(cautions_for(code, None, &[])[0], Caution::Mould, "{code}");
    }
}

#[test]
fn a_row_of_the_list_keeps_its_cautions_and_none_is_said_twice() {
    for known in operations() {
        for goods in Goods::KNOWN {
            let shown = cautions_for(known.code, Some(goods), Material::KNOWN);
            assert!(
                known.cautions.iter().all(|own| shown.contains(own)),
                "{}",
                known.code
            );
            for (at, one) in shown.iter().enumerate() {
                assert!(!shown[..at].contains(one), "{} {one:?}", known.code);
            }
        }
        let plain = cautions_for(
            known.code,
            None,
            &[Material::SmoothLeather, Material::LeatherSole],
        );
        let by_work = [
            "water_repellent",
            "mould_treatment",
            "odour_treatment",
            "climbing_resole",
        ];
        assert!(
            by_work.contains(&known.code) || plain == known.cautions,
            "{}",
            known.code
        );
    }
    assert!(cautions_for("bell repair", None, &[]).is_empty());
}
