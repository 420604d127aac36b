//! Which operations come before which others.
//!
//! Common practice, no source: a repairer may always choose another order.

use super::operations::{Stage, Station, operation};

/// A line of stages: the stages of one group come before the stages of every later group of the same line. There is no
/// order between two operations of one group, or of stages in different lines.
type StageLine = &'static [&'static [Stage]];

/// The looks, at the end of every line: grinding dust and cement would land on a fresh finish, sewing and stretching
/// would break it. What washes comes before dye and cream, and ink after dye, which would run over it.
const LOOKS: StageLine = &[
    &[Stage::WetCleaning],
    &[Stage::Colour],
    &[Stage::Edge],
    &[Stage::Cleaning],
    &[Stage::WaterRepellent],
];

/// The lines, each without [`LOOKS`].
const LINES: [StageLine; 4] = {
    use Stage::*;

    // From the inside of the shoe to the ground, then the finish: grinding dust and cement would spoil a fresh finish.
    // A raise goes under the sole before that is put on. Edges are trimmed once sole and heel are on.
    const FOOT_TO_GROUND: StageLine = &[
        &[OpenUp],
        &[OldSole],
        &[Insole, Stiffener],
        &[Rib],
        &[Welt],
        &[Shank],
        &[Filler],
        &[Midsole],
        &[Raise],
        &[Sole],
        &[SoleSeam],
        &[OverTheSole],
        &[HeelBlock],
        &[HeelCover],
        &[TopPiece],
        &[QuarterTips],
        &[EdgeTrim],
        &[Sock],
    ];

    // From the stiffeners to the lining that covers them.
    const STIFFENER_TO_SOCK: StageLine = &[&[OpenUp], &[OldSole], &[Stiffener], &[HeelLining], &[Sock]];

    // Sewing and stretching, which would break a fresh finish.
    const SEWN: StageLine = &[&[OpenUp], &[Sewing, Buckle]];

    // A belt is cut at the buckle's end, and holes are measured from the buckle.
    const BELT: StageLine = &[&[OpenUp], &[BeltLength], &[Buckle], &[BeltHoles]];

    [FOOT_TO_GROUND, STIFFENER_TO_SOCK, SEWN, BELT]
};

/// Whether the operation `first` has to be done before `then` on the same shoe.
pub fn comes_before(first: &str, then: &str) -> bool {
    let stage = |code| operation(code).and_then(|known| known.stage);
    let (Some(first), Some(then)) = (stage(first), stage(then)) else {
        return false;
    };
    LINES.iter().any(|line| {
        let place = |stage| {
            line.iter()
                .chain(LOOKS)
                .position(|together| together.contains(&stage))
        };
        matches!((place(first), place(then)), (Some(first), Some(then)) if first < then)
    })
}

/// The usual order of some operations, as indices into `operations`. Operations that no rule orders keep their given
/// order.
pub fn in_order(operations: &[&str]) -> Vec<usize> {
    let mut left: Vec<usize> = (0..operations.len()).collect();
    let mut order = Vec::with_capacity(left.len());
    while !left.is_empty() {
        let free = |at: &usize| {
            left.iter()
                .all(|other| !comes_before(operations[*other], operations[*at]))
        };
        // The rules have no circle, so at least one operation has no predecessor left.
        let next = left.iter().position(free).unwrap_or(0);
        order.push(left.remove(next));
    }
    order
}

/// The next operation of a job: in the usual order, the first agreed one that is not in `done`. `None` if all are done.
pub fn next_operation<'a>(agreed: &[&'a str], done: &[&str]) -> Option<&'a str> {
    let open: Vec<&'a str> = agreed
        .iter()
        .copied()
        .filter(|code| !done.contains(code))
        .collect();
    in_order(&open).first().map(|at| open[*at])
}

/// The station of a job's next operation. `None` if all operations are done, or if the next one is the shop's own,
/// whose station is not known (see [`next_operation`]).
pub fn station_of_next(agreed: &[&str], done: &[&str]) -> Option<&'static Station> {
    next_operation(agreed, done)
        .and_then(operation)
        .map(|known| &known.station)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::trade::operations::operations;
    use proptest::prelude::*;

    fn codes() -> impl Iterator<Item = &'static str> {
        operations().map(|known| known.code)
    }

    /// Together the two properties mean that there is no circle, and that the order of two operations does not depend
    /// on whether the operations between them are agreed.
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
    fn every_stage_of_the_lines_has_work_and_all_work_has_a_stage_but_small_repairs() {
        let in_lines = || LINES.iter().copied().chain([LOOKS]).flatten().copied().flatten();
        for stage in in_lines() {
            assert!(operations().any(|known| known.stage == Some(*stage)), "{stage:?}");
        }
        for known in operations() {
            let stage = known.stage.as_ref();
            assert!(
                stage.is_none_or(|stage| in_lines().any(|one| one == stage)),
                "{}: its stage stands in no line",
                known.code
            );
        }
        let free = operations().filter(|known| known.stage.is_none());
        assert_eq!(free.map(|known| known.code).collect::<Vec<_>>(), ["small_repair"]);
    }

    /// The usual order at the bench: common practice, no source.
    const ANGRY: &[(&str, &str)] = &[
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
        ("midsole_replacement", "raise_to_prescription"),
        ("raise_to_prescription", "resole_cemented"), // a raise lies under the sole
        ("raise_to_prescription", "half_sole"),
        ("insole_renewal", "rewelt"),
        ("sole_off", "insole_renewal"),
        ("insole_renewal", "sock_replacement"),
        ("nail_through", "sock_replacement"), // or the sock comes out again
        ("heel_pin", "top_piece_replacement"),
        ("heel_lowering", "top_piece_replacement"),
        ("heel_block_plastic", "heel_cover"),
        ("resole_welted", "edge_trim"),
        ("resole_unit", "edge_trim"),
        ("top_piece_replacement", "edge_trim"), // edge and heel are trimmed in one line
        ("edge_trim", "strip_and_dye"),         // dust
        ("edge_trim", "edge_trim_ink"),
        ("strip_and_dye", "sole_paint"),
        ("restitch_sole", "toe_plate_flush"),
        ("wet_clean", "strip_and_dye"),
        ("wet_clean", "clean_condition_polish"),
        ("desalting", "clean_condition_polish"),
        ("mould_treatment", "colour_touch_up"),
        ("suede_clean", "water_repellent"),
        ("apron_seam", "wet_clean"),
        ("shaft_wider", "strip_and_dye"),
        ("bag_lining", "edge_paint"),
        ("new_belt", "buckle_replacement"),
        ("strip_and_dye", "edge_trim_ink"),
        ("strip_and_dye", "clean_condition_polish"),
        ("zip_replacement", "strip_and_dye"),
        ("shorten_belt", "new_hole"),
    ];

    #[test]
    fn what_a_repairer_would_be_angry_about() {
        for (first, then) in ANGRY {
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
                // An operation comes before one given earlier only because the earlier one had to wait for another.
                if order[at] < order[at - 1] {
                    let waited_for = comes_before(work[order[at - 1]], work[order[at]]);
                    prop_assert!(waited_for, "{:?}", order);
                }
            }
        }
    }
}
