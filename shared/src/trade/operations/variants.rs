//! The variants of operations: what the same work is done with or in, where that changes its price or its minutes.
//!
//! Percent of the price and minutes of the row itself: common practice, no source. The first of a list is the usual
//! one.

use super::columns::{Variant, made_of, variant};
use crate::trade::material::Material;

/// The wearing layer of a heel.
pub(super) const TOP_PIECES: &[Variant] = &[
    made_of("rubber", "Rubber", 100, 100, Material::RubberSole),
    made_of("leather", "Leather", 125, 110, Material::LeatherSole),
    variant("combination", "Leather with a rubber corner", 130, 120),
    variant("hard", "Hard plastic, for slender heels", 100, 100),
];
/// Soles that are usually rubber.
pub(super) const RUBBER_OR_LEATHER: &[Variant] = &[
    made_of("rubber", "Rubber", 100, 100, Material::RubberSole),
    made_of("leather", "Leather", 120, 110, Material::LeatherSole),
];
/// Soles that are usually leather.
pub(super) const LEATHER_OR_RUBBER: &[Variant] = &[
    made_of("leather", "Leather", 100, 100, Material::LeatherSole),
    made_of("rubber", "Rubber", 95, 100, Material::RubberSole),
];
/// Guards. The sole above one stays what it is.
pub(super) const GUARDS: &[Variant] = &[
    variant("smooth", "Thin and smooth", 100, 100),
    variant("profiled", "Profiled", 110, 100),
];
/// How far climbing rubber goes.
pub(super) const FOREPART_OR_WHOLE: &[Variant] = &[
    made_of("forepart", "Forepart", 100, 100, Material::RubberSole),
    made_of("whole", "Whole sole", 130, 130, Material::RubberSole),
];
/// A heel block with or without a cover of its own.
pub(super) const COVERED_OR_NOT: &[Variant] = &[
    variant("without_cover", "Without cover", 100, 100),
    variant("with_cover", "With cover", 160, 160),
];
/// What a heel is covered with.
pub(super) const COVERS: &[Variant] = &[
    variant("leather", "Leather", 100, 100),
    variant("fabric", "Fabric", 120, 110),
];
/// The three kinds of stiffener, in the order of [`STIFFENERS`](crate::trade::waits::STIFFENERS), each with a wait of
/// its own.
pub(super) const STIFFENER_KINDS: &[Variant] = &[
    variant("pasted", "Leather or board, pasted", 100, 100),
    variant("solvent", "Softened with solvent", 90, 80),
    variant("heat_set", "Formed by heat", 85, 70),
];
/// At which sides of a shoe the elastic is new.
pub(super) const GUSSET_SIDES: &[Variant] = &[
    variant("both_sides", "Both sides", 100, 100),
    variant("one_side", "One side", 60, 60),
];
/// What a boot leg is made wider with.
pub(super) const GUSSETS: &[Variant] = &[
    variant("elastic", "Elastic gusset", 100, 100),
    variant("leather", "Leather panel", 115, 110),
];
/// Which way a shoe is stretched.
pub(super) const LENGTH_OR_WIDTH: &[Variant] = &[
    variant("width", "Width", 100, 100),
    variant("length", "Length", 100, 100),
];
/// The teeth of a zip.
pub(super) const METAL_OR_PLASTIC: &[Variant] = &[
    variant("plastic", "Plastic", 100, 100),
    variant("metal", "Metal", 115, 100),
];
/// What laces run through.
pub(super) const EYELETS_OR_HOOKS: &[Variant] = &[
    variant("eyelet", "Eyelet", 100, 100),
    variant("hook", "Hook", 120, 100),
];
/// What an inner sole is made of.
pub(super) const INSOLES: &[Variant] = &[
    variant("leather", "Leather", 100, 100),
    variant("board", "Fibre board", 80, 90),
];
/// How far a sock lining goes.
pub(super) const SOCKS: &[Variant] = &[
    variant("whole", "Whole", 100, 100),
    variant("heel", "Heel only", 70, 80),
];
/// Where a pad goes.
pub(super) const PADS: &[Variant] = &[
    variant("forepart", "Forepart", 100, 100),
    variant("heel", "Heel", 100, 100),
];
/// How much of a bag is lined.
pub(super) const LININGS: &[Variant] = &[
    variant("whole", "Whole", 100, 100),
    variant("pocket", "One pocket", 40, 40),
];
