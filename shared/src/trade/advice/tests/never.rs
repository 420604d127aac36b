//! What no card says, whatever is known of the goods.

use super::super::*;
use super::{any_facts, said};
use proptest::prelude::*;

/// Uppers that are given cream, oil or wax.
pub(super) const CONDITIONED: [Material; 4] = [
    Material::SmoothLeather,
    Material::Oiled,
    Material::Cordovan,
    Material::Exotic,
];
/// Uppers on which all three do harm or nothing.
pub(super) const UNCONDITIONED: [Material; 6] = [
    Material::Suede,
    Material::Patent,
    Material::Coated,
    Material::Textile,
    Material::Satin,
    Material::Synthetic,
];
/// What is said where something is put on leather to condition it.
const CONDITIONING: [&str; 5] = [
    "condition",
    "Try any cream",
    "oil or wax",
    "little cream",
    "little of a cream",
];

pub(super) fn is_conditioning(line: &str) -> bool {
    CONDITIONING.iter().any(|words| line.contains(words))
}

/// It is not known which shoe of a pair was repaired, so that every line is true of one shoe too.
#[test]
fn no_line_dries_anything_flat_or_speaks_of_both_heels() {
    for rule in RULES {
        let text = [rule.advice.say, rule.advice.because].join(" ");
        let words = |word: &str| text.split(|c: char| !c.is_alphabetic()).any(|one| one == word);
        for word in ["flat", "heels", "both", "feed", "fed"] {
            assert!(!words(word), "{text}");
        }
    }
}

proptest! {
    #[test]
    fn nothing_is_conditioned_that_does_not_take_it_or_is_not_known(
        (operations, damages, materials) in any_facts(),
        goods in prop::option::of(prop::sample::select(Goods::KNOWN.to_vec())),
    ) {
        let facts = Facts {
            goods: goods.as_ref(),
            construction: None,
            materials: &materials,
            damages: &damages,
            operations: &operations,
        };
        let takes = materials.iter().any(|one| CONDITIONED.contains(one));
        let spoilt = materials.iter().any(|one| UNCONDITIONED.contains(one));
        for line in said(&facts) {
            prop_assert!(!is_conditioning(line) || (takes && !spoilt), "{line} to {materials:?}");
        }
    }

    #[test]
    fn trees_and_horns_are_for_shoes_that_take_them(
        (operations, damages, materials) in any_facts(),
        goods in prop::sample::select(Goods::KNOWN.to_vec()),
    ) {
        let facts = Facts {
            goods: Some(&goods),
            construction: None,
            materials: &materials,
            damages: &damages,
            operations: &operations,
        };
        let open = [Goods::Sandal, Goods::Clog, Goods::ClimbingShoe];
        let without_trees = [Goods::Trainer, Goods::DanceShoe, Goods::Orthopaedic, Goods::SafetyBoot];
        for line in said(&facts) {
            if open.contains(&goods) {
                prop_assert!(!line.contains("trees") && !line.contains("shoe horn"), "{goods}: {line}");
            }
            prop_assert!(!without_trees.contains(&goods) || !line.contains("trees"), "{goods}: {line}");
        }
    }
}
