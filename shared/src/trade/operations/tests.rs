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
    assert_eq!(name("top_piece_replacement"), "Heels (top pieces)");
    assert_eq!(
        name("bell repair"),
        "bell repair",
        "the shop's own words are kept"
    );
    assert_eq!(Station::BuildHeel.words(), "Build heel");
}

/// A tile of the Bench has room for one line of 12 characters.
#[test]
fn every_tile_name_is_short_and_belongs_to_one_operation() {
    for language in words::Language::ALL {
        let tiles: Vec<_> = words::speaking(language, || operations().map(Operation::tile_name).collect());
        for tile in &tiles {
            assert!(
                (1..=12).contains(&tile.chars().count()) && tile.trim() == *tile,
                "{language:?}: {tile:?}"
            );
        }
        let distinct: BTreeSet<_> = tiles.iter().collect();
        assert_eq!(distinct.len(), tiles.len(), "{language:?}: {tiles:?}");
    }
    assert_eq!(tile_name("top_piece_replacement"), "Heels");
    assert_eq!(
        tile_name("bell repair"),
        "bell repair",
        "the shop's own words are kept"
    );
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
    let table: [Row; 21] = [
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
        ("clean_condition_polish", &[(Cream, 15, 30, 1)]), // before it is brushed
        ("wet_clean", &[(WetClean, 720, 1440, 1)]),
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
    assert!(belt.len() <= 15, "{belt:?}");
    let bag = on(&Goods::Bag);
    assert!(bag.contains(&"zip_replacement") && bag.contains(&"bag_lining"));
    assert!(!bag.contains(&"new_belt") && !on(&Goods::Boot).contains(&"lock"));
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

/// The card says "both" only of both; of one shoe it says which.
#[test]
fn the_card_speaks_of_the_pair_or_of_one_side() {
    for known in operations() {
        assert!(
            known.plain.ends_with('.') && !known.plain.contains('{'),
            "{}",
            known.code
        );
        if known.goods.contains(&Class::Footwear) {
            let one = known.plain_one;
            assert_eq!(one.matches("{side}").count(), 1, "{}", known.code);
            assert_eq!(one.matches('{').count(), 1, "{}", known.code);
            let of_pair = ["both", "Both", "soles ", "shoes", "heels"];
            assert!(
                of_pair.iter().all(|word| !one.contains(word)),
                "{}: {one}",
                known.code
            );
            assert!(one.ends_with('.'), "{}", known.code);
        } else {
            assert_eq!(known.plain_one, "", "{}: these goods have no sides", known.code);
        }
    }
}

#[test]
fn what_belongs_to_other_work_is_in_the_list() {
    for known in operations() {
        for (at, code) in known.includes.iter().enumerate() {
            assert!(
                operation(code).is_some() && *code != known.code,
                "{}: {code}",
                known.code
            );
            assert!(!known.includes[..at].contains(code), "{}: {code}", known.code);
        }
        for (at, code) in known.asks_for.iter().enumerate() {
            assert!(
                operation(code).is_some() && *code != known.code,
                "{}: {code}",
                known.code
            );
            assert!(!known.asks_for[..at].contains(code), "{}: {code}", known.code);
            assert!(!known.includes.contains(code), "{}: {code}", known.code);
        }
    }
}

/// Edge finishing is part of a full sole, and whatever takes the top piece off asks for a new one: common practice, no
/// source.
#[test]
fn a_full_sole_has_its_edges_and_asks_for_the_heels() {
    for known in operations() {
        if known.code.starts_with("resole_") {
            assert!(known.includes.contains(&"edge_trim_ink"), "{}", known.code);
        }
        // A moulded unit has its heel in one piece with it.
        if known.takes_off.contains(&Component::TopPiece) && known.code != "resole_unit" {
            assert!(
                known.asks_for.contains(&"top_piece_replacement"),
                "{}",
                known.code
            );
        }
    }
    for code in [
        "resole_cemented",
        "resole_blake",
        "resole_welted",
        "resole_hand_welted",
    ] {
        assert_eq!(
            operation(code).unwrap().asks_for,
            ["top_piece_replacement"],
            "{code}"
        );
    }
    assert!(
        operation("resole_wedge").unwrap().asks_for.is_empty(),
        "a wedge has no heel"
    );
}

#[test]
fn variants_are_told_apart_and_the_first_is_the_row_itself() {
    for known in operations() {
        for (at, one) in known.variants.iter().enumerate() {
            let before = &known.variants[..at];
            assert!(
                before
                    .iter()
                    .all(|other| other.code != one.code && other.name != one.name),
                "{} {}",
                known.code,
                one.code
            );
            assert!(one.price_percent > 0 && one.minutes_percent > 0, "{}", known.code);
            assert_eq!(known.variant(one.code), Some(one));
        }
        let usual = known.variants.first();
        assert!(
            usual.is_none_or(|one| (one.price_percent, one.minutes_percent) == (100, 100)),
            "{}",
            known.code
        );
        assert_ne!(known.variants.len(), 1, "{}: one is no choice", known.code);
        assert_eq!(known.variant("bell"), None);
    }
    let stiffeners = operation("counter_rebuild").unwrap().variants;
    assert_eq!(stiffeners.len(), crate::trade::waits::STIFFENERS.len());
}

#[test]
fn small_pieces_are_counted_and_shoes_are_not() {
    for (code, priced) in [
        ("zip_replacement", Priced::Each), // a zip costs each, not a pair
        ("zip_slider", Priced::Each),
        ("new_hole", Priced::Each),
        ("press_stud", Priced::Each),
        ("eyelet_replacement", Priced::Each),
        ("rivet", Priced::Each),
        ("belt_keeper", Priced::Each),
        ("hook_and_loop", Priced::Each),
        ("top_piece_replacement", Priced::Pair),
        ("half_sole", Priced::Pair),
        ("quarter_tips", Priced::Pair),
    ] {
        assert_eq!(operation(code).unwrap().priced, priced, "{code}");
    }
}

#[test]
fn the_material_is_asked_for_before_what_could_spoil_it() {
    for known in operations() {
        let needed = match known.stage {
            Some(Stage::WetCleaning) => Some(Touch::Wet),
            Some(Stage::Colour) => Some(Touch::Solvent),
            Some(Stage::Cleaning) => Some(Touch::Cream),
            Some(Stage::OldSole) => Some(Touch::Heat),
            _ => None,
        };
        assert!(
            needed.is_none_or(|touch| known.touch.contains(&touch)),
            "{}",
            known.code
        );
        let soaked = known.waits_at(WaitPlace::Before).next().is_some();
        assert!(!soaked || known.touch.contains(&Touch::Wet), "{}", known.code);
        for (at, one) in known.touch.iter().enumerate() {
            assert!(!known.touch[..at].contains(one), "{}", known.code);
        }
    }
}
