//! The trade's own list. Minutes and waits of the usual repairs are common practice, no source; so are the
//! smaller jobs, whose minutes are a first guess. A shop's own history replaces them all.

use super::{Operation, Station};
use crate::trade::kinds::Class;
use crate::trade::waits::{
    BOND_12, BOND_12_24, BOND_24, CEMENT, CEMENT_15, CREAM, DYE, DYE_NIGHT, EDGE, FILLER, HEEL, INK, MULL,
    Minutes, OVERNIGHT, SOAK, STIFFENERS, STRETCHER, THREAD, WEAR_DRY, WET,
};

const SHOE: &[Class] = Class::FOOTWEAR;
const ITEM: &[Class] = Class::PLAIN_ITEMS;
const ANY: &[Class] = Class::ANY;
const BELT: &[Class] = &[Class::Belt];
const NOT_BELT: &[Class] = &[Class::Footwear, Class::Bag, Class::Other];

macro_rules! operations {
    ($(
        $code:literal $name:literal $station:ident $goods:ident
            $low:literal-$high:literal min, wear after $hours:literal h, [$($wait:expr),*];
            $plain:literal
    )+) => {
        /// The trade's list, in the order a shop meets them.
        pub const OPERATIONS: &[Operation] = &[$(Operation {
            code: $code,
            name: $name,
            plain: $plain,
            station: Station::$station,
            wear_after_h: $hours,
            minutes: Minutes::of($low, $high),
            waits: &[$($wait),*],
            goods: $goods,
        }),+];
    };
}

operations! {
    "top_piece_replacement" "Top pieces" BuildHeel SHOE 10-25 min, wear after 0 h, [CEMENT];
        "New wearing layer under both heels."
    "half_sole" "Half soles" Cement SHOE 25-40 min, wear after 24 h, [CEMENT.twice(), BOND_24];
        "New half soles where the forepart was worn."
    "sole_guard" "Sole guards" Cement SHOE 25-40 min, wear after 24 h, [CEMENT.twice(), BOND_24];
        "Thin rubber put over the soles to protect them."
    "resole_cemented" "Resole, cemented" Cement SHOE 60-90 min, wear after 24 h, [CEMENT_15, BOND_12_24];
        "New soles, cemented on."
    "resole_blake" "Resole, Blake" Stitch SHOE 75-110 min, wear after 24 h, [MULL, BOND_24];
        "New soles, stitched through."
    "resole_welted" "Resole, machine-welted" Stitch SHOE 90-150 min, wear after 24 h,
        [MULL, CEMENT, EDGE, BOND_24];
        "New soles, stitched to the welt."
    "resole_hand_welted" "Resole, hand-welted" Stitch SHOE 240-480 min, wear after 24 h,
        [SOAK, OVERNIGHT.twice(), BOND_24];
        "New soles, stitched to a hand-sewn welt."
    "heel_block_rebuild" "Heel block rebuild" BuildHeel SHOE 45-90 min, wear after 12 h, [CEMENT_15, HEEL];
        "The heel built up again, layer by layer."
    "welt_piece" "Welt piece" Stitch SHOE 45-45 min, wear after 12 h, [THREAD];
        "A worn piece of the welt replaced."
    "rewelt" "Full rewelt" Stitch SHOE 180-300 min, wear after 12 h, [THREAD];
        "A new welt all round."
    "counter_rebuild" "Counter rebuild" Cement SHOE 60-120 min, wear after 24 h, [STIFFENERS[0]];
        "The stiffener round the heel made firm again."
    "lining_patch" "Lining patch" Cement SHOE 20-40 min, wear after 12 h, [CEMENT, BOND_12];
        "The worn lining at the heel patched."
    "restitch_upper" "Restitch upper seam" Stitch SHOE 15-30 min, wear after 0 h, [CEMENT];
        "Open seams of the upper sewn again."
    "upper_patch" "Upper patch" Stitch SHOE 20-40 min, wear after 0 h, [CEMENT];
        "A patch set into the upper."
    "elastic_replacement" "Elastic" Stitch SHOE 30-60 min, wear after 0 h, [CEMENT];
        "New elastic at the sides."
    "zip_replacement" "Zip" Stitch NOT_BELT 45-75 min, wear after 0 h, [];
        "A new zip."
    "edge_trim_ink" "Edge trim and ink" Ink SHOE 15-30 min, wear after 0 h, [INK];
        "Sole edges trimmed, inked and waxed."
    "strip_and_dye" "Strip and dye" Finish ANY 45-90 min, wear after 24 h, [DYE, DYE_NIGHT];
        "The old finish taken off and the leather dyed."
    "clean_condition_polish" "Clean, condition, polish" CleanAndPolish ANY 20-35 min, wear after 0 h,
        [WET, CREAM];
        "Cleaned, fed and polished."
    "stretch" "Stretch" Finish SHOE 10-15 min, wear after 0 h, [STRETCHER];
        "Stretched on the last for more room."

    "open_up" "Open up" Strip NOT_BELT 10-20 min, wear after 0 h, [];
        "Opened, to see what is inside."
    "sole_off" "Old sole off" Strip SHOE 10-20 min, wear after 0 h, [];
        "The old soles taken off."
    "recement_sole" "Sole cemented again" Cement SHOE 15-30 min, wear after 24 h, [CEMENT, BOND_24];
        "Open places of the sole cemented again."
    "restitch_sole" "Sole stitched again" Stitch SHOE 20-45 min, wear after 0 h, [];
        "The soles stitched on again."
    "toe_piece" "Toe pieces" Cement SHOE 15-30 min, wear after 24 h, [CEMENT, BOND_24];
        "The worn tips of the soles replaced."
    "midsole_replacement" "Midsole" Cement SHOE 30-60 min, wear after 24 h, [CEMENT, BOND_24];
        "New layers between the shoe and its sole."
    "rand_repair" "Rand" Cement SHOE 30-60 min, wear after 24 h, [CEMENT, BOND_24];
        "The strip round the edge of the sole mended."
    "shank_replacement" "Shank" Cement SHOE 15-30 min, wear after 0 h, [CEMENT];
        "The broken stiff strip under the arch replaced."
    "filler_replacement" "Cork filler" Cement SHOE 10-20 min, wear after 0 h, [FILLER];
        "New cork under the foot."
    "insole_repair" "Insole repair" Cement SHOE 20-45 min, wear after 12 h, [CEMENT, BOND_12];
        "The inner sole mended."
    "rib_repair" "Rib or holdfast repair" Stitch SHOE 30-60 min, wear after 12 h, [CEMENT, BOND_12];
        "The ridge that holds the seam of the sole mended."
    "sock_replacement" "Socks" Cement SHOE 10-15 min, wear after 0 h, [CEMENT];
        "New leather over the inner soles."
    "puff_rebuild" "Toe puff rebuild" Cement SHOE 60-120 min, wear after 24 h, [STIFFENERS[0]];
        "The stiffener at the toe made firm again."
    "heel_grip" "Heel grip lining" Cement SHOE 15-30 min, wear after 12 h, [CEMENT, BOND_12];
        "A new lining where the heel rubs."
    "cement_lifts" "Heel lifts" BuildHeel SHOE 15-30 min, wear after 12 h, [CEMENT_15, HEEL];
        "Worn layers of the heel replaced."
    "heel_refix" "Heel fixed again" BuildHeel SHOE 15-30 min, wear after 12 h, [CEMENT, HEEL];
        "The loose heel fixed again."
    "heel_cover" "Heel cover" BuildHeel SHOE 30-60 min, wear after 12 h, [CEMENT, BOND_12];
        "New leather round the heel."
    "quarter_tips" "Quarter tips" BuildHeel SHOE 10-15 min, wear after 0 h, [];
        "Hard pieces let into the corners of the heels."
    "raise_to_prescription" "Raise to prescription" BuildHeel SHOE 60-120 min, wear after 24 h,
        [CEMENT_15, BOND_24];
        "The sole raised as prescribed."
    "eyelet_replacement" "Eyelets and hooks" Stitch ANY 10-20 min, wear after 0 h, [];
        "New eyelets or hooks."
    "strap_replacement" "Strap or handle" Stitch NOT_BELT 30-60 min, wear after 0 h, [CEMENT];
        "A new strap."
    "buckle_replacement" "Buckle" Stitch ANY 15-30 min, wear after 0 h, [];
        "A new buckle."
    "new_hole" "New hole" Trim ANY 5-10 min, wear after 0 h, [];
        "A new hole punched."
    "shorten_belt" "Shorten" Trim BELT 15-30 min, wear after 0 h, [];
        "Made shorter."
    "restitch_seam" "Restitch seam" Stitch ITEM 15-30 min, wear after 0 h, [CEMENT];
        "An open seam sewn again."
    "colour_touch_up" "Colour touched up" Finish ANY 15-30 min, wear after 0 h, [DYE];
        "Worn colour made good."
    "water_repellent" "Water repellent" CleanAndPolish ANY 5-10 min, wear after 12 h,
        [WEAR_DRY];
        "Treated against water. It resists water; it is not waterproof."
    "small_repair" "Small repair" Trim ANY 5-15 min, wear after 0 h, [];
        "A small repair."
}
