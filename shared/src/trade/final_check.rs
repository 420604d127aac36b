//! The final check before a pair is handed over: the usual list, and the time from which the pair may be worn.
//!
//! Common practice, no source. A shop keeps its own list; its own lines always apply.

use super::came_with::CameWith;
use super::cautions::Caution;
use super::dangers::cautions;
use super::kinds::{Class, Goods};
use super::operations::operation;
use super::waits::WaitKind;

/// The goods to be handed over.
#[derive(Debug, Clone, Copy, Default)]
pub struct Leaving<'a> {
    /// The kind of goods; if it is unknown, they count as a shoe.
    pub goods: Option<&'a Goods>,
    /// The operations that were done.
    pub operations: &'a [&'a str],
    /// What came with it.
    pub came_with: &'a [CameWith],
}

/// The condition under which a line of the list applies.
enum Applies {
    Always,
    ToShoes,
    ToNailed,
    ToCemented,
    ToWaiting,
    AfterAny(&'static [&'static str]),
    IfCameWith(CameWith),
}

/// The usual list, in the order in which it is checked by hand: inside, underneath, all round, accessories.
const USUAL: &[(&str, Applies)] = &[
    ("Felt inside by hand, left: no points", Applies::ToShoes),
    ("Felt inside by hand, right: no points", Applies::ToShoes),
    ("No point through the top pieces", Applies::ToNailed),
    ("Heels level", Applies::ToShoes),
    ("No cement smears", Applies::ToCemented),
    (
        "Zip runs, buckle closes",
        Applies::AfterAny(&["zip_replacement", "buckle_replacement", "new_hole"]),
    ),
    ("Laces, inserts and socks back", Applies::ToShoes),
    ("Shoe trees with it", Applies::IfCameWith(CameWith::Trees)),
    ("Its bag with it", Applies::IfCameWith(CameWith::Bag)),
    ("Its box with it", Applies::IfCameWith(CameWith::Carton)),
    (
        "Everything else that came with it",
        Applies::IfCameWith(CameWith::SomethingElse),
    ),
    ("Tags off", Applies::Always),
    (
        "Hours since cementing counted, first wear told",
        Applies::ToWaiting,
    ),
];

impl Applies {
    fn to(&self, leaving: &Leaving<'_>) -> bool {
        let known = || leaving.operations.iter().filter_map(|code| operation(code));
        match self {
            Applies::Always => true,
            Applies::ToShoes => leaving
                .goods
                .unwrap_or(&Goods::LowShoe)
                .is_any_of(Class::FOOTWEAR),
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
