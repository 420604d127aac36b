//! The cautions of an operation on certain goods of certain materials.
//!
//! Common practice, no source, except where [`Caution`] names one.

use super::Caution;
use crate::trade::hazards::primer_of;
use crate::trade::kinds::Goods;
use crate::trade::material::Material;
use crate::trade::operations::{Operation, SoleWork, operation};

/// Work whose first caution is its own, whatever the goods are.
const FIRST_BY_WORK: &[(&str, Caution)] = &[
    ("water_repellent", Caution::Spray),
    ("mould_treatment", Caution::Mould),
    ("odour_treatment", Caution::Mould),
];

/// Soles that heat melts, shrinks or makes smoke.
const NO_HEAT: &[Material] = &[
    Material::FoamSole,
    Material::PuSole,
    Material::EvaSole,
    Material::TprSole,
];

/// The cautions of an operation on these goods, each once, the most important first: those that follow from the goods,
/// from the work and from what solvent does to crepe, then the operation's own, then those of heat and primer.
///
/// `goods` is `None` where the kind is not known; `materials` are those of upper and sole. If no sole is among them,
/// the sole counts as unknown, which hot air may harm. For the shop's own operations only what follows from the goods
/// is known.
pub fn cautions_for(code: &str, goods: Option<&Goods>, materials: &[Material]) -> Vec<Caution> {
    let known = operation(code);
    let own = known.map_or(&[][..], |known| known.cautions);
    let by_goods = match goods {
        Some(Goods::SafetyBoot) => Some(Caution::Safety),
        Some(Goods::Orthopaedic) => Some(Caution::Prescription),
        _ => None,
    };
    let by_work = FIRST_BY_WORK.iter().filter(|(work, _)| *work == code);
    let crepe = materials.contains(&Material::CrepeSole) && own.contains(&Caution::Solvent);
    let heat = known.is_some_and(|known| is_heated(known, goods, materials));
    let primer = known.is_some_and(|known| is_primed(known, materials));
    let all = by_goods
        .into_iter()
        .chain(by_work.map(|(_, caution)| *caution))
        .chain(crepe.then_some(Caution::Solvent))
        .chain(own.iter().copied())
        .chain(heat.then_some(Caution::Heat))
        .chain(primer.then_some(Caution::Primer));
    let mut each = Vec::new();
    for caution in all {
        if !each.contains(&caution) {
            each.push(caution);
        }
    }
    each
}

/// Whether an old sole comes off that hot air may harm. The rubber of climbing shoes always comes off by heat.
fn is_heated(known: &Operation, goods: Option<&Goods>, materials: &[Material]) -> bool {
    let comes_off =
        ["sole_off", "climbing_resole"].contains(&known.code) || known.sole_work.contains(&SoleWork::Renewed);
    let climbing = goods == Some(&Goods::ClimbingShoe) || known.code == "climbing_resole";
    let unknown = !materials.iter().any(Material::of_sole);
    let may_harm = materials.iter().any(|material| NO_HEAT.contains(material));
    comes_off && (unknown || may_harm || climbing)
}

/// Whether cement goes on a sole that is primed first.
fn is_primed(known: &Operation, materials: &[Material]) -> bool {
    let cemented = known.sole_work.contains(&SoleWork::Cemented);
    cemented && materials.iter().any(|material| primer_of(material).is_some())
}
