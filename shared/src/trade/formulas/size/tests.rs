use super::*;
use proptest::prelude::*;

fn of_foot(group: FootGroup, foot_mm: f64) -> Sizes {
    let foot = Foot {
        group,
        foot_mm: Some(foot_mm),
        system: None,
        size: None,
    };
    foot.calculate().unwrap()
}

/// npm shoe-size-converter 1.0.1 (a library after ISO/TS 19407:2015): nearest halves; 255 and 265 are ties.
#[test]
fn adults_as_an_independent_library_rounds_them() {
    let table = [
        (220.0, [35.0, 3.0, 4.0, 5.0]),
        (240.0, [38.0, 5.5, 6.5, 7.5]),
        (250.0, [39.5, 6.5, 7.5, 8.5]),
        (255.0, [40.5, 7.0, 8.0, 9.0]),
        (260.0, [41.0, 7.5, 8.5, 9.5]),
        (265.0, [42.0, 8.5, 9.5, 10.5]),
        (270.0, [42.5, 9.0, 10.0, 11.0]),
        (280.0, [44.0, 10.0, 11.0, 12.0]),
        (300.0, [47.0, 12.5, 13.5, 14.5]),
    ];
    for (foot, [eu, uk, us_men, us_women]) in table {
        let expected = InAll {
            eu,
            uk,
            us_men,
            us_women,
        };
        assert_eq!(of_foot(FootGroup::Adult, foot).nearest_half, expected, "{foot}");
    }
}

/// The same library, children.
#[test]
fn children_as_an_independent_library_rounds_them() {
    for (foot, eu, uk) in [
        (120.0, 19.5, 3.5),
        (150.0, 24.5, 7.0),
        (170.0, 27.5, 9.5),
        (190.0, 31.0, 12.0),
    ] {
        let half = of_foot(FootGroup::Child, foot).nearest_half;
        assert_eq!((half.eu, half.uk), (eu, uk), "{foot}");
    }
}

/// Two makers' charts: after the children's 13½ comes the adults' 1, and UK 12 is US 12½ or 13. A child's 14, counted
/// on, and an adult's 1 are lasts of the same length: 26 barleycorns.
#[test]
fn after_thirteen_and_a_half_children_begin_again_at_one() {
    let of_size = |size| {
        let foot_mm = FootGroup::Child.foot_mm(System::Uk, size);
        let sizes = of_foot(FootGroup::Child, foot_mm);
        (sizes.nearest_half.uk, sizes.us_child.unwrap())
    };
    assert_eq!(of_size(12.0), (12.0, [12.5, 13.0]));
    assert_eq!(of_size(13.0), (13.0, [13.5, 1.0]));
    assert_eq!(of_size(13.5), (13.5, [1.0, 1.5]));
    assert_eq!(of_size(14.0), (1.0, [1.5, 2.0]));
    let one = System::Uk.last_mm(FootGroup::Adult, 1.0);
    assert!((System::Uk.last_mm(FootGroup::Child, 14.0) - one).abs() < 1e-9);
    let grown = of_foot(FootGroup::Adult, 300.0);
    assert_eq!((grown.nearest_half.us_men, grown.us_child), (13.5, None));
    assert_eq!(of_foot(FootGroup::Adult, 310.0).nearest_half.uk, 13.5);
    assert!(
        of_foot(FootGroup::Adult, 330.0).nearest_half.uk > 15.0,
        "adults are counted on"
    );
}

/// Closed form: EU 42 is a last of 42 Paris points, UK 5 of 30 barleycorns (ten inches).
#[test]
fn lasts_and_feet_of_a_size() {
    for (system, size, last, foot) in [
        (System::Eu, 42.0, 280.0, 266.667),
        (System::Eu, 38.0, 253.333, 240.0),
        (System::Eu, 44.0, 293.333, 280.0),
        (System::Uk, 5.0, 254.0, 237.067),
        (System::Uk, 8.0, 279.4, 262.467),
        (System::Uk, 9.0, 287.867, 270.933),
    ] {
        let asked = Foot {
            group: FootGroup::Adult,
            foot_mm: None,
            system: Some(system),
            size: Some(size),
        };
        let got = asked.calculate().unwrap();
        assert!((got.last_mm - last).abs() < 5e-4, "{size}: {}", got.last_mm);
        assert!((got.foot_mm - foot).abs() < 5e-4, "{size}: {}", got.foot_mm);
    }
}

#[test]
fn a_foot_is_known_in_one_way() {
    let asked = |foot_mm, system, size| Foot {
        group: FootGroup::Adult,
        foot_mm,
        system,
        size,
    };
    for (foot, field) in [
        (asked(None, None, None), "foot_mm"),
        (asked(Some(260.0), None, Some(41.0)), "foot_mm"),
        (asked(None, Some(System::Eu), None), "size"),
        (asked(None, None, Some(41.0)), "system"),
        (asked(None, Some(System::Eu), Some(4.0)), "size"),
    ] {
        assert_eq!(foot.calculate().unwrap_err().field, field);
    }
}

proptest! {
    #[test]
    fn there_and_back(
        foot in 60.0..400.0f64,
        group in prop::sample::select(vec![FootGroup::Adult, FootGroup::Child]),
    ) {
        let all = group.sizes(foot);
        for (system, size) in [
            (System::Eu, all.eu), (System::Uk, all.uk), (System::UsMen, all.us_men), (System::UsWomen, all.us_women),
        ] {
            prop_assert!((group.foot_mm(system, size) - foot).abs() < 1e-9);
        }
    }

    #[test]
    fn a_longer_foot_never_has_a_smaller_size(foot in 60.0..399.0f64, more in 0.0..1.0f64) {
        let (short, long) = (of_foot(FootGroup::Adult, foot), of_foot(FootGroup::Adult, foot + more));
        prop_assert!(long.exact.uk >= short.exact.uk && long.nearest_half.eu >= short.nearest_half.eu);
        prop_assert!((short.nearest_half.eu - short.exact.eu).abs() <= 0.25 + 1e-6);
    }
}
