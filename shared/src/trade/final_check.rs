//! The final check before a pair is handed over: the usual list, and the time from which the pair may be worn.
//!
//! Common practice, no source, except for certified footwear: the information for users of ISO 20345, read in secondary
//! texts. A shop keeps its own list; its own lines always apply.

mod lines;

use super::came_with::CameWith;
use super::cautions::Caution;
use super::dangers::cautions;
use super::kinds::{Class, Goods};
use super::operations::operation;
use super::waits::WaitKind;

pub use lines::{line_of, shown};

/// The goods to be handed over.
#[derive(Debug, Clone, Copy, Default)]
pub struct Leaving<'a> {
    /// The kind of goods; if it is unknown, they count as a shoe.
    pub goods: Option<&'a Goods>,
    /// The operations that were done.
    pub operations: &'a [&'a str],
    /// What came with it.
    pub came_with: &'a [CameWith],
    /// Whether old parts were kept because the customer wants them back.
    pub parts_kept: bool,
}

/// The condition under which a line of the list applies.
enum Applies {
    Always,
    ToShoes,
    /// To shoes other than these, and to these if one of the things came with them.
    ToShoesBut(&'static [Goods], &'static [CameWith]),
    ToKind(&'static [Goods]),
    ToLevelled,
    ToPrescribed,
    ToNailed,
    ToCemented,
    ToWaiting,
    AfterAny(&'static [&'static str]),
    IfCameWith(CameWith),
    IfPartsKept,
}

/// The operation whose height is prescribed.
const RAISE: &str = "raise_to_prescription";

/// The usual list, in the order in which it is checked by hand: inside, underneath, all round, accessories, papers. A
/// line is never reworded: a shop's own list holds it as it was, and [`shown`] says in which words it is read.
const USUAL: &[(&str, Applies)] = &[
    ("Felt inside by hand, left: no points", Applies::ToShoes),
    ("Felt inside by hand, right: no points", Applies::ToShoes),
    ("No point through the top pieces", Applies::ToNailed),
    ("Heels level", Applies::ToLevelled),
    ("Heights as prescribed, not levelled", Applies::ToPrescribed),
    ("No cement smears", Applies::ToCemented),
    (
        "Dry inside and out",
        Applies::AfterAny(&["wet_clean", "desalting", "suede_clean", "mould_treatment"]),
    ),
    (
        "Aired: no smell of spray",
        Applies::AfterAny(&["water_repellent", "mould_treatment", "odour_treatment"]),
    ),
    (
        "Zip runs, buckle closes",
        Applies::AfterAny(&["zip_replacement", "buckle_replacement", "new_hole"]),
    ),
    (
        "Laces, inserts and socks back",
        Applies::ToShoesBut(
            &[Goods::Sandal, Goods::Clog],
            &[CameWith::Laces, CameWith::Inserts],
        ),
    ),
    (
        "Insoles as the maker supplies or names them",
        Applies::ToKind(&[Goods::SafetyBoot]),
    ),
    ("Shoe trees with it", Applies::IfCameWith(CameWith::Trees)),
    ("Its bag with it", Applies::IfCameWith(CameWith::Bag)),
    ("Its box with it", Applies::IfCameWith(CameWith::Carton)),
    (
        "Everything else that came with it",
        Applies::IfCameWith(CameWith::SomethingElse),
    ),
    ("Old parts for the customer with it", Applies::IfPartsKept),
    // The tags tell pairs apart as long as they hang.
    ("Left and right are of one pair", Applies::ToShoes),
    ("Tags off", Applies::Always),
    (
        "Owner told: certification may have ended",
        Applies::ToKind(&[Goods::SafetyBoot]),
    ),
    (
        "Hours since cementing counted, first wear told",
        Applies::ToWaiting,
    ),
];

impl Applies {
    fn to(&self, leaving: &Leaving<'_>) -> bool {
        let known = || leaving.operations.iter().filter_map(|code| operation(code));
        let goods = leaving.goods.unwrap_or(&Goods::LowShoe);
        let is_shoe = goods.is_any_of(Class::FOOTWEAR);
        let is_prescribed = *goods == Goods::Orthopaedic || leaving.operations.contains(&RAISE);
        match self {
            Applies::Always => true,
            Applies::ToShoes => is_shoe,
            Applies::ToShoesBut(others, things) => {
                let came_with = || leaving.came_with.iter().any(|thing| things.contains(thing));
                is_shoe && (!others.contains(goods) || came_with())
            }
            Applies::ToKind(kinds) => kinds.contains(goods),
            // A climbing shoe has no heels, and prescribed heights may differ.
            Applies::ToLevelled => is_shoe && !is_prescribed && *goods != Goods::ClimbingShoe,
            Applies::ToPrescribed => is_prescribed,
            Applies::ToNailed => {
                let codes = leaving.operations.iter();
                codes
                    .copied()
                    .any(|code| cautions(code).contains(&Caution::Nails))
            }
            Applies::ToCemented => known()
                .flat_map(|known| known.waits)
                .any(|wait| matches!(wait.kind, WaitKind::CementTouchDry | WaitKind::CementFullBond)),
            Applies::ToWaiting => known().any(|known| known.wear_after_h > 0),
            Applies::AfterAny(codes) => leaving.operations.iter().any(|code| codes.contains(code)),
            Applies::IfCameWith(thing) => leaving.came_with.contains(thing),
            Applies::IfPartsKept => leaving.parts_kept,
        }
    }
}

/// The whole usual list, from which a shop makes its own.
pub fn usual_list() -> impl Iterator<Item = &'static str> {
    USUAL.iter().map(|(line, _)| *line)
}

/// Whether a line must be ticked for these goods. The shop's own lines always apply.
pub fn applies(line: &str, leaving: &Leaving<'_>) -> bool {
    USUAL
        .iter()
        .find(|(usual, _)| *usual == line)
        .is_none_or(|(_, when)| when.to(leaving))
}

/// The usual lines that must be ticked for these goods.
pub fn to_tick<'a>(leaving: &'a Leaving<'a>) -> impl Iterator<Item = &'static str> + 'a {
    USUAL
        .iter()
        .filter(|(_, when)| when.to(leaving))
        .map(|(line, _)| *line)
}

const HOUR_MS: i64 = 3_600_000;

/// The time from which a pair may be worn, in UTC milliseconds, from its steps (operation and time, in any order).
/// `None` if nothing has to wait.
pub fn wearable_from<'a>(steps: impl IntoIterator<Item = (&'a str, i64)>) -> Option<i64> {
    let waiting = steps.into_iter().filter_map(|(code, done_ms)| {
        let hours = operation(code)?.wear_after_h;
        (hours > 0).then(|| done_ms.saturating_add(i64::from(hours) * HOUR_MS))
    });
    waiting.max()
}

/// Whole hours, rounded up, until a pair may be worn; 0 if it may be worn now. Times in UTC milliseconds.
pub fn hours_until_wear<'a>(steps: impl IntoIterator<Item = (&'a str, i64)>, now_ms: i64) -> u32 {
    let left = wearable_from(steps)
        .map_or(0, |from| from.saturating_sub(now_ms))
        .max(0);
    u32::try_from(left / HOUR_MS + i64::from(left % HOUR_MS > 0)).unwrap_or(u32::MAX)
}

/// Whole hours, rounded down, since the last step that must set before wear; `None` if there is none. 0 if a wrong
/// clock puts that step into the future. Times in UTC milliseconds.
pub fn hours_since_cementing<'a>(
    steps: impl IntoIterator<Item = (&'a str, i64)>,
    now_ms: i64,
) -> Option<u32> {
    let setting = |code| operation(code).is_some_and(|known| known.wear_after_h > 0);
    let last = steps
        .into_iter()
        .filter(|(code, _)| setting(code))
        .map(|(_, done_ms)| done_ms)
        .max()?;
    Some(u32::try_from(now_ms.saturating_sub(last).max(0) / HOUR_MS).unwrap_or(u32::MAX))
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn ticked(leaving: &Leaving<'_>) -> Vec<&'static str> {
        to_tick(leaving).collect()
    }

    #[test]
    fn shoes_are_felt_inside_left_and_right_whatever_was_done() {
        let lines = ticked(&Leaving::default());
        assert!(
            lines[0].contains("left") && lines[1].contains("right"),
            "{lines:?}"
        );
        assert!(lines.contains(&"Heels level") && lines.contains(&"Tags off"));
        assert!(!lines.contains(&"No cement smears"), "nothing was cemented");
    }

    #[test]
    fn the_list_follows_the_work_and_what_came_with_it() {
        let leaving = Leaving {
            operations: &["half_sole", "top_piece_replacement"],
            came_with: &[CameWith::Laces, CameWith::Trees],
            ..Leaving::default()
        };
        let lines = ticked(&leaving);
        for line in [
            "No point through the top pieces",
            "No cement smears",
            "Laces, inserts and socks back",
            "Shoe trees with it",
            "Hours since cementing counted, first wear told",
        ] {
            assert!(lines.contains(&line), "{line}");
        }
        assert!(!lines.contains(&"Its box with it"));
    }

    /// ISO 20345, information for users, read in secondary texts: a repair can end the certification.
    #[test]
    fn the_owner_of_safety_footwear_is_told() {
        let leaving = Leaving {
            goods: Some(&Goods::SafetyBoot),
            operations: &["resole_cemented"],
            ..Leaving::default()
        };
        let lines = ticked(&leaving);
        for line in [
            "Owner told: certification may have ended",
            "Insoles as the maker supplies or names them",
        ] {
            assert!(lines.contains(&line), "{line}");
            assert!(!ticked(&Leaving::default()).contains(&line), "{line}");
        }
    }

    #[test]
    fn prescribed_heights_are_not_levelled() {
        let raised = Leaving {
            operations: &[RAISE],
            ..Leaving::default()
        };
        let orthopaedic = Leaving {
            goods: Some(&Goods::Orthopaedic),
            operations: &["top_piece_replacement"],
            ..Leaving::default()
        };
        for leaving in [raised, orthopaedic] {
            let lines = ticked(&leaving);
            assert!(
                lines.contains(&"Heights as prescribed, not levelled"),
                "{lines:?}"
            );
            assert!(!lines.contains(&"Heels level"), "{lines:?}");
        }
    }

    #[test]
    fn what_goes_back_to_the_customer_is_with_the_pair() {
        let leaving = Leaving {
            goods: Some(&Goods::Sandal),
            operations: &["resole_cemented"],
            parts_kept: true,
            ..Leaving::default()
        };
        let lines = ticked(&leaving);
        assert!(lines.contains(&"Old parts for the customer with it"), "{lines:?}");
        assert!(!lines.contains(&"Laces, inserts and socks back"), "{lines:?}");
        let laced = Leaving {
            came_with: &[CameWith::Laces],
            parts_kept: false,
            ..leaving
        };
        let lines = ticked(&laced);
        assert!(
            !lines.contains(&"Old parts for the customer with it"),
            "{lines:?}"
        );
        assert!(lines.contains(&"Laces, inserts and socks back"), "{lines:?}");
        let at = |line| lines.iter().position(|one| *one == line);
        assert!(
            at("Left and right are of one pair") < at("Tags off"),
            "tags tell pairs apart"
        );
    }

    #[test]
    fn what_was_wet_or_sprayed_is_dry_and_aired() {
        let lines = |operation: &'static str| {
            let leaving = Leaving {
                goods: Some(&Goods::Bag),
                operations: &[operation],
                ..Leaving::default()
            };
            ticked(&leaving)
        };
        assert_eq!(lines("wet_clean")[0], "Dry inside and out");
        assert_eq!(lines("water_repellent")[0], "Aired: no smell of spray");
        let other = lines("restitch_seam");
        assert!(
            !other
                .iter()
                .any(|line| line.starts_with("Dry") || line.starts_with("Aired"))
        );
        for (_, when) in USUAL {
            if let Applies::AfterAny(codes) = when {
                assert!(codes.iter().all(|code| operation(code).is_some()), "{codes:?}");
            }
        }
    }

    #[test]
    fn a_belt_has_no_heels() {
        let leaving = Leaving {
            goods: Some(&Goods::Belt),
            operations: &["new_hole"],
            ..Leaving::default()
        };
        assert_eq!(ticked(&leaving), ["Zip runs, buckle closes", "Tags off"]);
    }

    #[test]
    fn the_shops_own_lines_always_apply() {
        assert!(applies("Bell rung", &Leaving::default()));
        assert!(!applies("Its box with it", &Leaving::default()));
        for line in usual_list() {
            assert!(!line.ends_with('.') && line.len() <= 48, "{line}");
        }
    }

    #[test]
    fn hours_are_counted_from_the_step_that_sets_last() {
        let steps = [
            ("half_sole", 0),
            ("heel_block_rebuild", 10 * HOUR_MS),
            ("edge_trim_ink", 20 * HOUR_MS),
        ];
        assert_eq!(wearable_from(steps), Some(24 * HOUR_MS));
        assert_eq!(hours_until_wear(steps, 20 * HOUR_MS + 1), 4, "rounded up");
        assert_eq!(hours_until_wear(steps, 24 * HOUR_MS), 0);
        assert_eq!(
            hours_since_cementing(steps, 20 * HOUR_MS - 1),
            Some(9),
            "rounded down"
        );
        assert_eq!(hours_since_cementing(steps, 0), Some(0), "a wrong clock");
        assert_eq!(wearable_from([("stretch", 5)]), None);
        assert_eq!(hours_until_wear([("stretch", 5)], 0), 0);
        assert_eq!(hours_since_cementing([("bell repair", 5)], 9), None);
    }

    proptest! {
        #[test]
        fn never_told_to_wear_too_early(
            done in prop::collection::vec(0i64..1_000_000_000, 1..5),
            now in 0i64..2_000_000_000,
        ) {
            let steps = || done.iter().map(|at| ("sole_guard", *at));
            let from = wearable_from(steps()).expect("sole guards have to set");
            let then = now + i64::from(hours_until_wear(steps(), now)) * HOUR_MS;
            prop_assert!(then >= from);
            prop_assert!(then < from.max(now) + HOUR_MS);
        }
    }
}
