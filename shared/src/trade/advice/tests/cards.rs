//! Whole cards: what exactly is said about goods of a certain kind and material.

use super::super::*;
use super::never::{CONDITIONED, UNCONDITIONED, is_conditioning};
use super::said;

const TREES: &str = "Put shoe trees in after wear.";
const REST: &str = "Let them rest 24 to 48 hours between wears.";
const DRY: &str = "When wet, dry them for 24 to 48 hours, stuffed with paper, away from heat and sun.";

#[test]
fn a_suede_pair_with_salt_is_given_no_cream() {
    let facts = Facts {
        goods: Some(&Goods::LowShoe),
        materials: &[Material::Suede, Material::RubberSole],
        damages: &[(Component::Upper, Condition::Salt)],
        operations: &["clean_condition_polish"],
        ..Facts::default()
    };
    assert_eq!(
        said(&facts),
        [
            "Brush salt off dry suede, then use a salt remover made for suede.",
            "Brush with a suede brush. No cream.",
            "Spray suede with a repellent made for it, outdoors, never in a room.",
            "Come back while the tread still shows.",
            TREES,
            REST,
        ]
    );
}

/// Wet leather soles dry on their sides: two shoe-care publications of 2016 and later; practice.
#[test]
fn a_patent_pair_is_wiped_and_its_leather_soles_dry_on_their_sides() {
    let facts = Facts {
        goods: Some(&Goods::CourtShoe),
        materials: &[Material::Patent, Material::LeatherSole],
        operations: &["top_piece_replacement"],
        ..Facts::default()
    };
    assert_eq!(
        said(&facts),
        [
            "Come back before the wear reaches the heel block.",
            "Dry wet soles on their sides for 24 to 48 hours, off heat, with trees in once they are only damp.",
            "Wipe with a soft, damp cloth, and keep from heat and frost.",
            TREES,
            REST,
            "Use a shoe horn.",
        ]
    );
}

#[test]
fn a_climbing_shoe_is_aired_and_has_neither_trees_nor_a_horn() {
    let facts = Facts {
        goods: Some(&Goods::ClimbingShoe),
        materials: &[Material::Synthetic, Material::RubberSole],
        operations: &["recement_sole"],
        ..Facts::default()
    };
    assert_eq!(
        said(&facts),
        [
            "Wait 24 hours before the first wear.",
            "Come back as soon as an edge opens.",
            "Air them open after every climb, away from heat and sun.",
            "Come back before the toe is worn down to the rand.",
            "Wipe with a damp cloth. No cream, no solvent, no heat.",
        ]
    );
}

/// The information for users of ISO 20345, read in secondary texts: only the maker can say.
#[test]
fn the_wearer_of_a_safety_boot_is_told_to_ask_the_maker() {
    let facts = Facts {
        goods: Some(&Goods::SafetyBoot),
        materials: &[Material::SmoothLeather, Material::PuSole],
        operations: &["resole_cemented"],
        ..Facts::default()
    };
    assert_eq!(
        said(&facts),
        [
            "Wait 24 hours before the first wear.",
            "Ask the maker whether they still count as safety footwear.",
            "Use only an insole that the maker supplies or names.",
            "Come back as soon as an edge opens.",
            "Open the laces wide before you step in.",
            "Look at the soles before a long walk after a long rest.",
        ]
    );
}

#[test]
fn a_prescribed_raise_stays_at_its_height() {
    let facts = Facts {
        goods: Some(&Goods::Orthopaedic),
        materials: &[Material::SmoothLeather],
        operations: &["raise_to_prescription"],
        ..Facts::default()
    };
    assert_eq!(
        said(&facts),
        [
            "Wait 24 hours before the first wear.",
            "Leave the height as prescribed. Ask the prescriber before any change.",
            "Come back as soon as the raise wears or opens.",
            "Take inserts out to dry, and put each back in its own shoe.",
            DRY,
            "Brush, then condition the leather sparingly once it is dry to the touch.",
        ]
    );
    let plain = Facts {
        operations: &["top_piece_replacement"],
        ..facts
    };
    assert!(said(&plain)[0].starts_with("Leave all heights as prescribed."));
}

#[test]
fn a_belt_is_hung_and_fed_if_it_is_known_to_be_of_leather() {
    let facts = Facts {
        goods: Some(&Goods::Belt),
        materials: &[Material::SmoothLeather],
        operations: &["new_hole"],
        ..Facts::default()
    };
    assert_eq!(
        said(&facts),
        [
            "Hang it by the buckle.",
            "Brush, then condition the leather sparingly once it is dry to the touch.",
            "Try any cream on a hidden spot first.",
        ]
    );
    let facts = Facts {
        materials: &[],
        ..facts
    };
    assert_eq!(said(&facts), ["Hang it by the buckle."]);
}

#[test]
fn a_new_belt_and_a_new_lining_have_a_line_of_their_own() {
    let lines = |goods: &Goods, operation: &'static str| {
        let facts = Facts {
            goods: Some(goods),
            operations: &[operation],
            ..Facts::default()
        };
        said(&facts).join(" ")
    };
    assert!(lines(&Goods::Belt, "new_belt").contains("Begin with the middle hole. Hang it by the buckle."));
    assert!(lines(&Goods::Bag, "bag_lining").contains("Keep pens, keys and tools in a pocket or case."));
}

/// It may be that only one shoe was given them.
#[test]
fn a_guard_and_a_top_piece_are_spoken_of_without_a_number() {
    let facts = Facts {
        operations: &["sole_guard", "top_piece_replacement"],
        ..Facts::default()
    };
    assert_eq!(
        said(&facts),
        [
            "Wait 24 hours before the first wear.",
            "Come back before the wear reaches the heel block.",
            "Have a guard renewed when its pattern is gone.",
            "Come back as soon as an edge opens.",
            TREES,
            REST,
        ]
    );
}

#[test]
fn of_an_unknown_material_only_what_is_true_of_all_is_said() {
    assert_eq!(said(&Facts::default()), [TREES, REST, DRY, "Use a shoe horn."]);
    let salt = Facts {
        damages: &[(Component::Upper, Condition::Salt)],
        ..Facts::default()
    };
    assert_eq!(said(&salt)[0], "Have salt taken off soon, before it dries in.");
}

#[test]
fn goods_of_a_newer_app_are_not_taken_for_shoes_or_belts() {
    let hat = Goods::from("hat");
    let facts = Facts {
        goods: Some(&hat),
        materials: &[Material::Textile],
        operations: &["strip_and_dye"],
        ..Facts::default()
    };
    assert_eq!(
        said(&facts),
        [
            "Wait 24 hours before using it.",
            "Keep from rain, and from light cloth, at first.",
            "Let dirt dry, brush it off, then wipe with a damp cloth. No cream.",
        ]
    );
}

/// What is said of the care of an upper and of salt on it.
#[test]
fn every_material_has_its_own_care() {
    let care = |material: Material| {
        let materials = [material];
        let damages = [(Component::Upper, Condition::Salt)];
        let facts = Facts {
            goods: Some(&Goods::Bag),
            materials: &materials,
            damages: &damages,
            ..Facts::default()
        };
        let lines = said(&facts);
        let is_care = |line: &&str| {
            ["Brush", "Wipe with", "Dust", "Let dirt", "Use a little"]
                .iter()
                .any(|one| line.starts_with(one))
        };
        let not_salt = |line: &&str| !line.contains("salt");
        lines
            .into_iter()
            .filter(not_salt)
            .find(is_care)
            .expect("a line of care")
    };
    let all: Vec<_> = CONDITIONED
        .iter()
        .chain(&UNCONDITIONED)
        .cloned()
        .map(care)
        .collect();
    for (at, line) in all.iter().enumerate() {
        assert!(!all[..at].contains(line), "{line}");
        assert_eq!(is_conditioning(line), at < CONDITIONED.len(), "{line}");
    }
}

#[test]
fn two_materials_on_one_shoe_are_told_apart() {
    let facts = Facts {
        materials: &[Material::Suede, Material::SmoothLeather],
        operations: &["colour_touch_up"],
        ..Facts::default()
    };
    let lines = said(&facts);
    assert!(
        lines.contains(&"Keep cream, oil and wax on the plain leather, and off all the rest."),
        "{lines:?}"
    );
    assert!(!lines.iter().any(|line| is_conditioning(line)), "{lines:?}");
}

/// Soles of polyester PU hydrolyse some 8 to 12 years after they were made, worn or not, and EVA does not: several
/// secondary texts; practice. What the older word means is not known.
#[test]
fn the_age_of_foam_is_that_of_pu() {
    let because = |material: Material| {
        let materials = [material];
        let facts = Facts {
            materials: &materials,
            ..Facts::default()
        };
        let of_age = |one: &&Advice| one.because.contains("crumble");
        advice(&facts).find(of_age).expect("a line on age").because
    };
    assert_eq!(
        because(Material::PuSole),
        "Many PU soles crumble 8 to 12 years after they were made, worn or not."
    );
    assert_eq!(
        because(Material::FoamSole),
        "Foam soles may crumble with age, worn or not."
    );
    assert!(because(Material::EvaSole).contains("EVA does not crumble"));
}

/// What was found on the upper of a bag, and what is said of it.
#[test]
fn what_harmed_it_is_kept_away() {
    for (found, line) in [
        (
            Condition::Mould,
            "Keep dry, with air round it, never in a closed bag or box.",
        ),
        (
            Condition::Odour,
            "Air well after use, and let dry right through, away from heat.",
        ),
        (Condition::DyeBleed, "Keep from rain, and from light cloth."),
        (
            Condition::Peeling,
            "Wipe with a soft, damp cloth, and do not pick at the coating.",
        ),
        (Condition::Burnt, "Keep away from heaters, stoves and fires."),
        (Condition::Chewed, "Keep out of reach of the dog."),
        (Condition::Silicone, "Use no spray or sponge with silicone."),
    ] {
        let damages = [(Component::Upper, found)];
        let facts = Facts {
            goods: Some(&Goods::Bag),
            damages: &damages,
            ..Facts::default()
        };
        assert_eq!(said(&facts)[0], line);
    }
}

#[test]
fn long_boots_are_kept_upright_and_trainers_are_opened() {
    let lines = |goods: &Goods| {
        let facts = Facts {
            goods: Some(goods),
            ..Facts::default()
        };
        said(&facts)
    };
    assert_eq!(
        lines(&Goods::LongBoot)[0],
        "Keep the legs upright with boot trees or rolled paper."
    );
    let trainer = lines(&Goods::Trainer);
    assert!(
        trainer.contains(&"Open the laces wide before you step in."),
        "{trainer:?}"
    );
    assert_eq!(lines(&Goods::Sandal), [DRY]);
}
