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

/// A shop's own list is kept, and what safety and prescribed footwear asks for is added where it is missing.
#[test]
fn a_shops_own_list_has_what_safety_and_prescribed_footwear_asks_for() {
    let own = ["Tags off", "Heels level", "Bell rung"];
    let on = |goods: &Goods, own: &[&'static str]| {
        let leaving = Leaving {
            goods: Some(goods),
            operations: &["top_piece_replacement"],
            ..Leaving::default()
        };
        list_for(own, &leaving)
    };
    assert_eq!(on(&Goods::LowShoe, &own), own);
    let safety = [
        "Insoles as the maker supplies or names them",
        "Owner told: certification may have ended",
    ];
    assert_eq!(on(&Goods::SafetyBoot, &own), [&own[..], &safety[..]].concat());
    let prescribed = "Heights as prescribed, not levelled";
    assert_eq!(
        on(&Goods::Orthopaedic, &own),
        ["Tags off", "Bell rung", prescribed],
        "and nothing is levelled"
    );
    assert_eq!(
        on(&Goods::Orthopaedic, &[prescribed, "Tags off"]),
        [prescribed, "Tags off"],
        "not twice"
    );
    assert!(on(&Goods::SafetyBoot, &[]).contains(&"Felt inside by hand, left: no points"));
}
