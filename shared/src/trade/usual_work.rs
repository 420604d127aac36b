//! What a counter is asked for most: the kinds of goods, and the work on each. All other work is found by its words.
//!
//! Common practice, no source.

mod by_material;
mod search;

use super::condition::Condition;
use super::kinds::Goods;
use super::material::Material;
use super::operations::operation;
use super::prices::norm;

pub use by_material::suits;
pub use search::is_meant;

/// Work that is asked for on shoes of any kind.
const ANY_SHOE: &[&str] = &[
    "top_piece_replacement",
    "half_sole",
    "sole_guard",
    "resole_cemented",
    "resole_welted",
    "heel_block_rebuild",
    "recement_sole",
    "restitch_upper",
    "lining_patch",
    "zip_replacement",
    "elastic_replacement",
    "stretch",
    "clean_condition_polish",
    "small_repair",
];
const BOOT: &[&str] = &[
    "top_piece_replacement",
    "half_sole",
    "sole_guard",
    "resole_cemented",
    "resole_welted",
    "recement_sole",
    "zip_replacement",
    "zip_slider",
    "elastic_replacement",
    "restitch_upper",
    "lining_patch",
    "stretch",
    "clean_condition_polish",
    "small_repair",
];
const WALKING_BOOT: &[&str] = &[
    "resole_cemented",
    "resole_welted",
    "half_sole",
    "top_piece_replacement",
    "recement_sole",
    "rand_repair",
    "midsole_replacement",
    "eyelet_replacement",
    "restitch_upper",
    "lining_patch",
    "water_repellent",
    "clean_condition_polish",
    "small_repair",
];
const COURT_SHOE: &[&str] = &[
    "top_piece_replacement",
    "half_sole",
    "sole_guard",
    "heel_block_plastic",
    "heel_cover",
    "heel_pin",
    "heel_lowering",
    "recement_sole",
    "sock_replacement",
    "pads",
    "stretch",
    "colour_touch_up",
    "clean_condition_polish",
    "small_repair",
];
const DANCE_SHOE: &[&str] = &[
    "dance_sole",
    "top_piece_replacement",
    "heel_cover",
    "heel_pin",
    "half_sole",
    "recement_sole",
    "strap_replacement",
    "buckle_replacement",
    "elastic_replacement",
    "stretch",
    "odour_treatment",
    "clean_condition_polish",
    "small_repair",
];
const SANDAL: &[&str] = &[
    "recement_sole",
    "strap_replacement",
    "buckle_replacement",
    "hook_and_loop",
    "elastic_replacement",
    "half_sole",
    "sole_guard",
    "resole_cemented",
    "top_piece_replacement",
    "insole_repair",
    "restitch_upper",
    "clean_condition_polish",
    "small_repair",
];
const CHILD: &[&str] = &[
    "recement_sole",
    "hook_and_loop",
    "buckle_replacement",
    "strap_replacement",
    "zip_replacement",
    "half_sole",
    "top_piece_replacement",
    "restitch_upper",
    "lining_patch",
    "heel_grip",
    "stretch",
    "clean_condition_polish",
    "small_repair",
];
const TRAINER: &[&str] = &[
    "recement_sole",
    "trainer_sole",
    "lining_patch",
    "heel_grip",
    "upper_patch",
    "restitch_upper",
    "rand_repair",
    "hook_and_loop",
    "eyelet_replacement",
    "pull_loop",
    "wet_clean",
    "odour_treatment",
    "small_repair",
];
const LONG_BOOT: &[&str] = &[
    "zip_replacement",
    "zip_slider",
    "top_piece_replacement",
    "half_sole",
    "sole_guard",
    "resole_cemented",
    "recement_sole",
    "elastic_replacement",
    "shaft_wider",
    "shaft_narrower",
    "lining_patch",
    "stretch",
    "clean_condition_polish",
    "small_repair",
];
/// What leaves sole and toe cap alone comes first: a repair of these can end the certification.
const SAFETY_BOOT: &[&str] = &[
    "zip_replacement",
    "zip_slider",
    "eyelet_replacement",
    "hook_and_loop",
    "restitch_upper",
    "lining_patch",
    "recement_sole",
    "resole_cemented",
    "top_piece_replacement",
    "water_repellent",
    "clean_condition_polish",
    "small_repair",
];
const ORTHOPAEDIC: &[&str] = &[
    "raise_to_prescription",
    "top_piece_replacement",
    "half_sole",
    "sole_guard",
    "resole_cemented",
    "recement_sole",
    "hook_and_loop",
    "strap_replacement",
    "buckle_replacement",
    "zip_replacement",
    "heel_grip",
    "lining_patch",
    "clean_condition_polish",
    "small_repair",
];
const CLIMBING_SHOE: &[&str] = &[
    "climbing_resole",
    "rand_repair",
    "recement_sole",
    "restitch_upper",
    "upper_patch",
    "hook_and_loop",
    "elastic_replacement",
    "pull_loop",
    "strap_replacement",
    "odour_treatment",
    "small_repair",
];
const CLOG: &[&str] = &[
    "half_sole",
    "sole_guard",
    "resole_cemented",
    "recement_sole",
    "top_piece_replacement",
    "strap_replacement",
    "buckle_replacement",
    "rivet",
    "insole_repair",
    "clean_condition_polish",
    "small_repair",
];
const BELT: &[&str] = &[
    "new_hole",
    "shorten_belt",
    "buckle_replacement",
    "belt_keeper",
    "new_belt",
    "restitch_seam",
    "edge_paint",
    "press_stud",
    "rivet",
    "strip_and_dye",
    "clean_condition_polish",
    "small_repair",
];
const BAG: &[&str] = &[
    "zip_replacement",
    "zip_slider",
    "strap_replacement",
    "restitch_seam",
    "buckle_replacement",
    "press_stud",
    "rivet",
    "lock",
    "bag_lining",
    "edge_paint",
    "colour_touch_up",
    "clean_condition_polish",
    "small_repair",
];
const OTHER: &[&str] = &[
    "zip_replacement",
    "zip_slider",
    "restitch_seam",
    "strap_replacement",
    "buckle_replacement",
    "press_stud",
    "rivet",
    "eyelet_replacement",
    "new_hole",
    "edge_paint",
    "clean_condition_polish",
    "small_repair",
];

/// The work with which every list ends.
const LAST: [&str; 2] = ["clean_condition_polish", "small_repair"];

/// The kinds of goods that are brought most, in the order of [`Goods::KNOWN`].
const GOODS: &[Goods] = &[
    Goods::LowShoe,
    Goods::Boot,
    Goods::WalkingBoot,
    Goods::CourtShoe,
    Goods::Sandal,
    Goods::Child,
    Goods::Trainer,
    Goods::Belt,
    Goods::Bag,
];

/// The operations that are asked for most on a kind of goods, the most frequent first; for goods that were not stated,
/// or that this version does not know, those on shoes of any kind.
pub fn usual_work(goods: &Goods) -> &'static [&'static str] {
    match goods {
        Goods::LowShoe | Goods::Other(_) => ANY_SHOE,
        Goods::Boot => BOOT,
        Goods::WalkingBoot => WALKING_BOOT,
        Goods::CourtShoe => COURT_SHOE,
        Goods::DanceShoe => DANCE_SHOE,
        Goods::Sandal => SANDAL,
        Goods::Child => CHILD,
        Goods::Trainer => TRAINER,
        Goods::LongBoot => LONG_BOOT,
        Goods::SafetyBoot => SAFETY_BOOT,
        Goods::Orthopaedic => ORTHOPAEDIC,
        Goods::ClimbingShoe => CLIMBING_SHOE,
        Goods::Clog => CLOG,
        Goods::Belt => BELT,
        Goods::Bag => BAG,
        Goods::OtherGoods => OTHER,
    }
}

/// The usual work on a pair of these materials with this visible damage: without what would spoil it, and with what it
/// asks for where cream and polish stand.
pub fn usual_work_on(goods: &Goods, materials: &[Material], seen: &[Condition]) -> Vec<&'static str> {
    let usual = usual_work(goods);
    let bears = |code: &&str| suits(code, materials);
    let can_be_done = |code: &&str| {
        let fits = operation(code).is_some_and(|known| known.fits(goods));
        fits && (goods.class().is_none() || norm(code, goods).is_some())
    };
    let mut asked = by_material::asked_for(materials, seen);
    asked.retain(|code| can_be_done(code) && bears(code) && !usual.contains(code));
    let place = usual.iter().position(|code| LAST.contains(code));
    let (first, last) = usual.split_at(place.unwrap_or(usual.len()));
    first
        .iter()
        .copied()
        .filter(bears)
        .chain(asked)
        .chain(last.iter().copied().filter(bears))
        .collect()
}

/// The kinds of goods that are brought most.
pub fn usual_goods() -> &'static [Goods] {
    GOODS
}

#[cfg(test)]
mod tests;
