//! One row for each material: how it is prepared, and which cements take on it.
//!
//! Common practice, no source.

use super::kinds::CementKind::{self, Neoprene, Polyurethane, RubberSolution, TwoPart, WaterBased};
use crate::trade::hazards::{CRUMBLES, DISSOLVES, HEAT, Hazard, LATEX, SWELLS};
use crate::trade::material::Material;

/// A sentence without arguments, said in the language of the moment.
pub(super) type RowText = fn() -> &'static str;

/// One material as a side of a joint.
#[derive(Debug, Clone, Copy)]
pub(super) struct SideRow {
    /// How its face is made ready.
    pub(super) prepare: RowText,
    /// What takes dust and grease off it.
    pub(super) wipe: RowText,
    /// The primer that it asks for.
    pub(super) prime: Option<RowText>,
    /// Its coats of cement.
    pub(super) coats: u32,
    /// The cements that take on it; the first is the one that it asks for.
    pub(super) takes: &'static [CementKind],
    /// Whether a hammer or a strong press would mark or crush it.
    pub(super) soft: bool,
    /// Its own hazards; those of heat and solvent count only for a cement with them.
    pub(super) hazards: &'static [&'static Hazard],
    /// Whether the name covers two materials that are glued in different ways.
    pub(super) is_two: bool,
}

impl SideRow {
    /// A firm side without primer, in one coat.
    const fn of(prepare: RowText, wipe: RowText, takes: &'static [CementKind]) -> Self {
        Self {
            prepare,
            wipe,
            prime: None,
            coats: 1,
            takes,
            soft: false,
            hazards: &[],
            is_two: false,
        }
    }

    /// The same side in two coats: it takes the first one up.
    const fn twice(self) -> Self {
        Self { coats: 2, ..self }
    }

    /// The same side with a primer.
    const fn primed(self, prime: RowText) -> Self {
        Self {
            prime: Some(prime),
            ..self
        }
    }

    /// The same side, soft.
    const fn softly(self) -> Self {
        Self { soft: true, ..self }
    }

    /// The same side with hazards of its own.
    const fn hurting(self, hazards: &'static [&'static Hazard]) -> Self {
        Self { hazards, ..self }
    }
}

/// What takes on open leather and cloth.
const MOST: &[CementKind] = &[Neoprene, Polyurethane, WaterBased, RubberSolution];
/// What takes on plastic full of softeners and on leather full of oil.
const HARD_TO_GLUE: &[CementKind] = &[Polyurethane, TwoPart];

/// The row of a material; `None` for a material that this version does not know.
pub(super) fn row(material: &Material) -> Option<SideRow> {
    use words::cement as said;
    let of = SideRow::of;
    Some(match material {
        Material::SmoothLeather => of(said::prepare_smooth_leather, said::wipe_dust, MOST).twice(),
        Material::Suede => of(said::prepare_suede, said::wipe_nap, MOST).twice(),
        Material::Oiled => of(said::prepare_oiled, said::wipe_degrease, HARD_TO_GLUE).twice(),
        Material::Cordovan => of(
            said::prepare_cordovan,
            said::wipe_degrease,
            &[Polyurethane, Neoprene],
        ),
        Material::Exotic => of(said::prepare_exotic, said::wipe_dust, MOST),
        Material::Patent => of(said::prepare_patent, said::wipe_film, &[Polyurethane, Neoprene]),
        Material::Coated => of(said::prepare_coated, said::wipe_cleaner, HARD_TO_GLUE).hurting(&[&HEAT]),
        Material::Textile => of(said::prepare_textile, said::wipe_dust, MOST).twice(),
        Material::Satin => of(said::prepare_satin, said::wipe_dry, &[Neoprene, Polyurethane]).twice(),
        Material::Synthetic => {
            of(said::prepare_synthetic, said::wipe_cleaner, HARD_TO_GLUE).hurting(&[&HEAT])
        }
        sole => return sole_row(sole),
    })
}

/// The row of a sole's material.
fn sole_row(material: &Material) -> Option<SideRow> {
    use words::cement as said;
    let of = SideRow::of;
    Some(match material {
        Material::LeatherSole => of(said::prepare_leather_sole, said::wipe_dust, MOST).twice(),
        Material::RubberSole => of(
            said::prepare_rubber_sole,
            said::wipe_cleaner,
            &[Neoprene, Polyurethane, RubberSolution, TwoPart],
        )
        .primed(said::prime_rubber)
        .hurting(&[&SWELLS]),
        Material::TprSole => of(said::prepare_tpr_sole, said::wipe_cleaner, HARD_TO_GLUE)
            .primed(said::prime_tpr)
            .hurting(&[&HEAT]),
        Material::CrepeSole => of(said::prepare_crepe_sole, said::wipe_no_solvent, &[RubberSolution])
            .twice()
            .softly()
            .hurting(&[&DISSOLVES, &LATEX]),
        Material::PuSole => of(said::prepare_pu_sole, said::wipe_pu, HARD_TO_GLUE)
            .softly()
            .hurting(&[&CRUMBLES, &HEAT]),
        Material::EvaSole => of(
            said::prepare_eva_sole,
            said::wipe_dust,
            &[Polyurethane, Neoprene, WaterBased],
        )
        .primed(said::prime_eva)
        .softly()
        .hurting(&[&HEAT]),
        Material::FoamSole => SideRow {
            is_two: true,
            ..of(said::prepare_foam_sole, said::wipe_dust, &[Polyurethane])
                .softly()
                .hurting(&[&CRUMBLES, &HEAT])
        },
        _ => return None,
    })
}
