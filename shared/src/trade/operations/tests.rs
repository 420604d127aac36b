use super::*;
use crate::trade::waits::WaitKind;
use std::collections::BTreeSet;

#[test]
fn every_operation_has_its_own_word() {
    let codes: BTreeSet<_> = operations().map(|known| known.code).collect();
    let names: BTreeSet<_> = operations().map(|known| known.name).collect();
    assert_eq!(
        (codes.len(), names.len()),
        (operations().count(), operations().count())
    );
    assert_eq!(name("half_sole"), "Half soles");
    assert_eq!(
        name("bell repair"),
        "bell repair",
        "the shop's own words are kept"
    );
    assert_eq!(Station::BuildHeel.words(), "Build heel");
}

/// Attended minutes of the usual repairs: common practice, no source.
#[test]
fn minutes_are_those_of_the_trade_table() {
    let table = [
        ("top_piece_replacement", 10, 25), // small 10-15, large 15-25
        ("half_sole", 25, 40),
        ("sole_guard", 25, 40),
        ("resole_cemented", 60, 90),
        ("resole_blake", 75, 110),
        ("resole_welted", 90, 150),
        ("resole_hand_welted", 240, 480),
        ("heel_block_rebuild", 45, 90),
        ("welt_piece", 45, 45),
        ("rewelt", 180, 300),
        ("counter_rebuild", 60, 120),
        ("lining_patch", 20, 40),
        ("restitch_upper", 15, 30),
        ("upper_patch", 20, 40),
        ("elastic_replacement", 30, 60),
        ("zip_replacement", 45, 75), // each
        ("edge_trim_ink", 15, 30),
        ("strip_and_dye", 45, 90),
        ("clean_condition_polish", 20, 35),
        ("stretch", 10, 15),
    ];
    for (code, low, high) in table {
        assert_eq!(operation(code).unwrap().minutes, Minutes::of(low, high), "{code}");
    }
}

/// Waits of the usual repairs, in minutes each time and times: common practice, no source. "Overnight" is the project's
/// reading: 8 to 12 hours. The five hours in water are one maker's course note.
#[test]
fn waits_are_those_of_the_trade_table() {
    use WaitKind::*;
    type Row = (&'static str, &'static [(WaitKind, u32, u32, u32)]);
    let table: [Row; 20] = [
        ("top_piece_replacement", &[(CementTouchDry, 10, 15, 1)]),
        (
            "half_sole",
            &[(CementTouchDry, 10, 15, 2), (CementFullBond, 1440, 1440, 1)],
        ),
        (
            "sole_guard",
            &[(CementTouchDry, 10, 15, 2), (CementFullBond, 1440, 1440, 1)],
        ),
        (
            "resole_cemented",
            &[(CementTouchDry, 15, 15, 1), (CementFullBond, 720, 1440, 1)],
        ),
        (
            "resole_blake",
            &[(Mulling, 120, 720, 1), (CementFullBond, 1440, 1440, 1)],
        ),
        (
            "resole_welted",
            &[
                (Mulling, 120, 720, 1),
                (CementTouchDry, 10, 15, 1),
                (EdgeDrying, 60, 120, 1),
                (CementFullBond, 1440, 1440, 1),
            ],
        ),
        (
            "resole_hand_welted",
            &[
                (Soaking, 300, 300, 1),
                (DryingOvernight, 480, 720, 2),
                (CementFullBond, 1440, 1440, 1),
            ],
        ),
        (
            "heel_block_rebuild",
            &[(CementTouchDry, 15, 15, 1), (HeelSet, 720, 720, 1)],
        ),
        ("welt_piece", &[(ThreadWaxSet, 720, 720, 1)]),
        ("rewelt", &[(ThreadWaxSet, 720, 720, 1)]),
        ("counter_rebuild", &[(StiffenerPaste, 720, 1440, 1)]),
        (
            "lining_patch",
            &[(CementTouchDry, 10, 15, 1), (CementFullBond, 720, 720, 1)],
        ),
        ("restitch_upper", &[(CementTouchDry, 10, 15, 1)]),
        ("upper_patch", &[(CementTouchDry, 10, 15, 1)]),
        ("elastic_replacement", &[(CementTouchDry, 10, 15, 1)]),
        ("zip_replacement", &[]),
        ("edge_trim_ink", &[(Ink, 20, 30, 1)]),
        (
            "strip_and_dye",
            &[(DyeCoat, 30, 60, 1), (DyeOvernight, 480, 720, 1)],
        ),
        (
            "clean_condition_polish",
            &[(WetClean, 720, 1440, 1), (Cream, 15, 30, 1)],
        ),
        ("stretch", &[(Stretcher, 1440, 2880, 1)]),
    ];
    for (code, waits) in table {
        let known = operation(code).unwrap().waits.iter();
        let known: Vec<_> = known
            .map(|wait| (wait.kind, wait.minutes.low, wait.minutes.high, wait.times))
            .collect();
        assert_eq!(known, waits, "{code}");
    }
}

#[test]
fn the_card_never_promises_wear_before_the_wait_is_over() {
    for known in operations() {
        assert!(
            known.minutes.low > 0 && known.minutes.low <= known.minutes.high,
            "{}",
            known.code
        );
        for wait in known.waits {
            assert!(
                wait.minutes.low > 0 && wait.minutes.low <= wait.minutes.high,
                "{}",
                known.code
            );
            if wait.holds == Holds::Wearing {
                assert_eq!(wait.minutes.high, known.wear_after_h * 60, "{}", known.code);
            }
        }
    }
}

#[test]
fn lists_are_short_for_what_is_not_a_shoe() {
    let on = |goods| operations_on(goods).map(|known| known.code).collect::<Vec<_>>();
    let belt = on(&Goods::Belt);
    assert!(belt.contains(&"new_hole") && belt.contains(&"buckle_replacement"));
    assert!(!belt.contains(&"half_sole") && !belt.contains(&"open_up"));
    assert!(belt.len() <= 12, "{belt:?}");
    assert!(on(&Goods::Bag).contains(&"zip_replacement"));
    assert!(!on(&Goods::LowShoe).contains(&"shorten_belt"));
    assert_eq!(
        on(&Goods::from("hat")).len(),
        operations().count(),
        "an unknown kind is offered everything"
    );
}

#[test]
fn the_bench_is_held_only_by_what_the_next_step_needs() {
    let kinds = |code| {
        operation(code)
            .unwrap()
            .bench_waits()
            .map(|wait| wait.kind)
            .collect::<Vec<_>>()
    };
    assert_eq!(kinds("half_sole"), [WaitKind::CementTouchDry]);
    assert_eq!(kinds("counter_rebuild"), [WaitKind::StiffenerPaste]);
    assert!(kinds("rewelt").is_empty());
}
