//! Which work comes before which.
//!
//! Common practice, no source: a repairer may always choose another order.

use super::operations::{Station, operation};

/// A line of stages: everything in one stage comes before everything in the later stages of the same line.
/// Nothing is said about two operations of one stage, or of different lines.
type StageLine = &'static [&'static [&'static str]];

const OPEN: &[&str] = &["open_up"];
const OLD_SOLE: &[&str] = &["sole_off"];
const SOCK: &[&str] = &["sock_replacement"];
const COLOUR: &[&str] = &["strip_and_dye", "colour_touch_up"];
const EDGE: &[&str] = &["edge_trim_ink"];
const CLEAN: &[&str] = &["clean_condition_polish"];
const REPEL: &[&str] = &["water_repellent"];

/// From the inside of the shoe to the ground, then the looks: grinding dust and cement would land on a fresh
/// finish.
const FOOT_TO_GROUND: StageLine = &[
    OPEN,
    OLD_SOLE,
    &["insole_repair", "counter_rebuild", "puff_rebuild"],
    &["rib_repair"],
    &["rewelt", "welt_piece"],
    &["shank_replacement"],
    &["filler_replacement"],
    &["midsole_replacement"],
    &[
        "resole_cemented",
        "resole_blake",
        "resole_welted",
        "resole_hand_welted",
        "half_sole",
        "recement_sole",
    ],
    &["restitch_sole"],
    // Over the seam: a guard cemented first would have to come off again for the stitching.
    &["sole_guard", "toe_piece", "rand_repair"],
    &[
        "raise_to_prescription",
        "heel_refix",
        "heel_block_rebuild",
        "cement_lifts",
    ],
    &["heel_cover"],
    &["top_piece_replacement"],
    &["quarter_tips"],
    SOCK,
    COLOUR,
    EDGE,
    CLEAN,
    REPEL,
];

/// From the stiffeners to the lining that covers them.
const STIFFENER_TO_SOCK: StageLine = &[
    OPEN,
    OLD_SOLE,
    &["counter_rebuild", "puff_rebuild"],
    &["lining_patch", "heel_grip"],
    SOCK,
    COLOUR,
    EDGE,
    CLEAN,
    REPEL,
];

/// Sewing and stretching, which would break a fresh finish.
const SEWN: StageLine = &[
    OPEN,
    &[
        "restitch_upper",
        "upper_patch",
        "elastic_replacement",
        "zip_replacement",
        "eyelet_replacement",
        "strap_replacement",
        "buckle_replacement",
        "restitch_seam",
        "stretch",
    ],
    COLOUR,
    EDGE,
    CLEAN,
    REPEL,
];

/// A belt is cut at the buckle's end, and holes are measured from the buckle.
const BELT: StageLine = &[
    OPEN,
    &["shorten_belt"],
    &["buckle_replacement"],
    &["new_hole"],
    COLOUR,
    EDGE,
    CLEAN,
    REPEL,
];

const LINES: &[StageLine] = &[FOOT_TO_GROUND, STIFFENER_TO_SOCK, SEWN, BELT];

/// Whether `first` has to be done before `then` on the same shoe.
pub fn comes_before(first: &str, then: &str) -> bool {
    LINES.iter().any(|line| {
        let stage = |code| line.iter().position(|stage| stage.contains(&code));
        matches!((stage(first), stage(then)), (Some(first), Some(then)) if first < then)
    })
}

/// The usual order of some operations, as positions in `operations`. What no rule orders stays as it was given.
pub fn in_order(operations: &[&str]) -> Vec<usize> {
    let mut left: Vec<usize> = (0..operations.len()).collect();
    let mut order = Vec::with_capacity(left.len());
    while !left.is_empty() {
        let free = |at: &usize| {
            left.iter()
                .all(|other| !comes_before(operations[*other], operations[*at]))
        };
        // The table has no circle, so something is always free.
        let next = left.iter().position(free).unwrap_or(0);
        order.push(left.remove(next));
    }
    order
}

/// The next operation of a job: the first agreed one, in the usual order, that is not among those `done`.
/// `None` when all of it is done.
pub fn next_operation<'a>(agreed: &[&'a str], done: &[&str]) -> Option<&'a str> {
    let open: Vec<&'a str> = agreed
        .iter()
        .copied()
        .filter(|code| !done.contains(code))
        .collect();
    in_order(&open).first().map(|at| open[*at])
}

/// Where a job stands: the station of its next operation. `None` when all is done, or when the next operation
/// is the shop's own and its station is not known (ask [`next_operation`] which).
pub fn station_of_next(agreed: &[&str], done: &[&str]) -> Option<&'static Station> {
    next_operation(agreed, done)
        .and_then(operation)
        .map(|known| &known.station)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trade::operations::OPERATIONS;
    use proptest::prelude::*;

    fn codes() -> impl Iterator<Item = &'static str> {
        OPERATIONS.iter().map(|known| known.code)
    }

    /// Together the two properties mean that there is no circle, and that leaving out what stands between two
    /// operations does not lose their order.
    #[test]
    fn the_table_has_no_circle_and_no_gap() {
        for first in codes() {
            assert!(!comes_before(first, first), "{first} before itself");
            for then in codes().filter(|then| comes_before(first, then)) {
                for last in codes().filter(|last| comes_before(then, last)) {
                    assert!(comes_before(first, last), "{first}, {then}, {last}");
                }
            }
        }
    }

    #[test]
    fn every_word_of_the_table_is_an_operation() {
        for code in LINES.iter().copied().flatten().copied().flatten() {
            assert!(operation(code).is_some(), "{code}");
        }
    }

    /// Bench sense: common practice, no source.
    #[test]
    fn what_a_repairer_would_be_angry_about() {
        let pairs = [
            ("open_up", "sole_off"),
            ("sole_off", "insole_repair"),
            ("sole_off", "resole_cemented"),
            ("sole_off", "lining_patch"),
            ("insole_repair", "rib_repair"),
            ("rib_repair", "rewelt"),
            ("top_piece_replacement", "clean_condition_polish"),
            ("clean_condition_polish", "water_repellent"),
            ("resole_welted", "sole_guard"), // the seam lies under the guard
            ("restitch_sole", "sole_guard"),
            ("counter_rebuild", "lining_patch"),
            ("counter_rebuild", "heel_grip"),
            ("rewelt", "resole_welted"),
            ("shank_replacement", "filler_replacement"),
            ("filler_replacement", "resole_hand_welted"),
            ("resole_blake", "heel_block_rebuild"),
            ("heel_block_rebuild", "top_piece_replacement"),
            ("resole_cemented", "edge_trim_ink"),
            ("strip_and_dye", "edge_trim_ink"),
            ("strip_and_dye", "clean_condition_polish"),
            ("zip_replacement", "strip_and_dye"),
            ("shorten_belt", "new_hole"),
        ];
        for (first, then) in pairs {
            assert!(comes_before(first, then), "{first} before {then}");
            assert!(!comes_before(then, first), "{then} before {first}");
        }
        assert!(
            !comes_before("zip_replacement", "half_sole"),
            "neither waits for the other"
        );
        assert!(
            !comes_before("bell repair", "half_sole"),
            "the shop's own work is free"
        );
    }

    #[test]
    fn a_job_stands_where_its_next_operation_is_done() {
        let agreed = ["clean_condition_polish", "top_piece_replacement", "resole_welted"];
        assert_eq!(in_order(&agreed), [2, 1, 0]);
        assert_eq!(station_of_next(&agreed, &[]), Some(&Station::Stitch));
        assert_eq!(
            station_of_next(&agreed, &["resole_welted"]),
            Some(&Station::BuildHeel)
        );
        assert_eq!(station_of_next(&agreed, &agreed), None);
        assert_eq!(next_operation(&["bell repair"], &[]), Some("bell repair"));
        assert_eq!(station_of_next(&["bell repair"], &[]), None);
    }

    fn some_work() -> impl Strategy<Value = Vec<&'static str>> {
        let any: Vec<_> = codes().chain(["bell repair", "buckles of brass"]).collect();
        prop::collection::vec(prop::sample::select(any), 0..12)
    }

    proptest! {
        #[test]
        fn the_order_loses_nothing_and_breaks_no_rule(work in some_work()) {
            let order = in_order(&work);
            let mut sorted = order.clone();
            sorted.sort_unstable();
            prop_assert_eq!(sorted, (0..work.len()).collect::<Vec<_>>());
            for (at, one) in order.iter().enumerate() {
                for later in &order[at + 1..] {
                    prop_assert!(!comes_before(work[*later], work[*one]));
                }
            }
        }

        #[test]
        fn what_is_in_order_stays_as_it_is(work in some_work()) {
            let ordered: Vec<_> = in_order(&work).into_iter().map(|at| work[at]).collect();
            prop_assert_eq!(in_order(&ordered), (0..work.len()).collect::<Vec<_>>());
        }

        #[test]
        fn a_repairers_own_order_is_kept_where_no_rule_speaks(work in some_work()) {
            let order = in_order(&work);
            for at in 1..order.len() {
                // A step back is only taken because something in front of it had to wait.
                if order[at] < order[at - 1] {
                    let waited_for = comes_before(work[order[at - 1]], work[order[at]]);
                    prop_assert!(waited_for, "{:?}", order);
                }
            }
        }
    }
}
