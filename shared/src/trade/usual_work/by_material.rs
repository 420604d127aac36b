//! What of the usual work suits the materials of a pair, and what the materials and visible damage ask for.
//!
//! Common practice, no source.

use crate::trade::condition::Condition;
use crate::trade::material::Material;
use crate::trade::operations::{Touch, operation};

/// Work that spoils some materials of uppers, beside what cream spoils: dye does not take on a film of plastic or comes
/// off it, finish closes a nap, and water leaves rings on satin.
const NOT_ON_UPPER: &[(&str, &[Material])] = &[
    (
        "strip_and_dye",
        &[
            Material::Suede,
            Material::Patent,
            Material::Coated,
            Material::Synthetic,
            Material::Textile,
            Material::Satin,
        ],
    ),
    (
        "colour_touch_up",
        &[
            Material::Patent,
            Material::Coated,
            Material::Synthetic,
            Material::Textile,
        ],
    ),
    ("wet_clean", &[Material::Satin]),
];

/// Soles with a foamed, moulded or gummy edge, which takes neither ink nor the warm iron of edge wax.
const NO_INK: &[Material] = &[
    Material::RubberSole,
    Material::CrepeSole,
    Material::PuSole,
    Material::EvaSole,
    Material::TprSole,
    Material::FoamSole,
];

/// Work that is for soles of leather.
const FOR_LEATHER_SOLES: &[&str] = &["edge_trim_ink", "sole_paint"];

/// Soft soles, on which a thin rubber guard has no hold.
const NO_GUARD: &[Material] = &[
    Material::CrepeSole,
    Material::PuSole,
    Material::EvaSole,
    Material::TprSole,
    Material::FoamSole,
];

/// What materials of uppers ask for.
const ASKED_BY_UPPER: &[(Material, &str)] = &[
    (Material::Suede, "suede_clean"),
    (Material::Patent, "patent_repair"),
    (Material::Textile, "wet_clean"),
];

/// What visible damage asks for that is on the leather, or in it.
const ASKED_BY_DAMAGE: &[(Condition, &str)] = &[
    (Condition::Salt, "desalting"),
    (Condition::Mould, "mould_treatment"),
    (Condition::Odour, "odour_treatment"),
];

/// Whether work suits what a pair is made of: some material of the upper, and some of the sole, bears it. What is not
/// known bears everything.
pub fn suits(code: &str, materials: &[Material]) -> bool {
    let bears = |of_sole: bool, spoils: fn(&str, &Material) -> bool| {
        let mut some = materials.iter().filter(|one| one.of_sole() == of_sole).peekable();
        some.peek().is_none() || some.any(|material| !spoils(code, material))
    };
    bears(false, spoils_upper) && bears(true, spoils_sole)
}

/// Waxed or oiled leather is conditioned too, with oil or wax in the place of cream.
fn spoils_upper(code: &str, material: &Material) -> bool {
    let cream = operation(code).is_some_and(|known| known.touch.contains(&Touch::Cream));
    let creamed = cream && *material != Material::Oiled && material.takes_cream() == Some(false);
    let listed = NOT_ON_UPPER
        .iter()
        .any(|(work, materials)| *work == code && materials.contains(material));
    creamed || listed
}

fn spoils_sole(code: &str, material: &Material) -> bool {
    let inked = FOR_LEATHER_SOLES.contains(&code) && NO_INK.contains(material);
    inked || (code == "sole_guard" && NO_GUARD.contains(material))
}

/// The work that materials and visible damage ask for, each once.
pub(super) fn asked_for(materials: &[Material], seen: &[Condition]) -> Vec<&'static str> {
    let by_damage = ASKED_BY_DAMAGE
        .iter()
        .filter(|(condition, _)| seen.contains(condition))
        .map(|(_, code)| *code);
    let by_upper = ASKED_BY_UPPER
        .iter()
        .filter(|(material, _)| materials.contains(material))
        .map(|(_, code)| *code);
    let mut asked: Vec<&'static str> = Vec::new();
    for code in by_damage.chain(by_upper) {
        if !asked.contains(&code) {
            asked.push(code);
        }
    }
    asked
}
