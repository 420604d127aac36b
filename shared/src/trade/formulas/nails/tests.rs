use super::super::outline::tests::{FIELD, heel};
use super::*;
use proptest::prelude::*;

/// Nail and rivet lengths of 3/8 to 1 in, from memory, unverified.
const SHELF: [f64; 9] = [10.0, 11.0, 13.0, 14.0, 16.0, 17.0, 19.0, 22.0, 25.0];

fn nailing(
    direction: Direction,
    [insole, midsole, seat, block, top_piece]: [f64; 5],
    clearance_mm: f64,
) -> Nailing {
    Nailing {
        direction,
        layers_mm: Layers {
            insole,
            midsole,
            seat,
            block,
            top_piece,
        },
        clearance_mm,
        stock_mm: SHELF.to_vec(),
        outline_mm: None,
        inset_mm: None,
        spacing_mm: None,
        count: None,
        shank: None,
    }
}

/// Common practice, closed form: through a top piece of 6 into a block of 25 with 3 to spare, 28; 6 into 18 with 2 to
/// spare, 22, and the next shorter on the shelf is 19.
#[test]
fn through_the_top_piece() {
    for (block, clearance, longest, choose) in [(25.0, 3.0, 28.0, 25.0), (18.0, 2.0, 22.0, 19.0)] {
        let nails = nailing(Direction::TopPiece, [3.0, 0.0, 5.0, block, 6.0], clearance)
            .calculate()
            .unwrap();
        assert_eq!(
            (nails.longest_mm, nails.choose_mm, nails.reason),
            (longest, Some(choose), None)
        );
        assert_eq!(
            (nails.count, nails.positions_mm.len(), nails.prepunch),
            (7, 0, false)
        );
    }
}

/// Closed form: 3 + 2 + 5 + 20 − 3 = 27, whatever the top piece.
#[test]
fn from_inside_and_from_below_the_top_piece_is_not_counted() {
    for top_piece in [0.0, 6.0] {
        for direction in [Direction::Inside, Direction::Below] {
            let nails = nailing(direction, [3.0, 2.0, 5.0, 20.0, top_piece], 3.0)
                .calculate()
                .unwrap();
            assert_eq!(
                (nails.longest_mm, nails.choose_mm),
                (27.0, Some(25.0)),
                "{direction:?}"
            );
        }
    }
}

#[test]
fn when_none_fits_it_says_why() {
    let thin = nailing(Direction::TopPiece, [3.0, 0.0, 5.0, 6.0, 5.0], 3.0)
        .calculate()
        .unwrap();
    assert_eq!(thin.choose_mm, None);
    assert!(thin.reason.unwrap().contains("shorter than 8 mm"));
    let none = nailing(Direction::TopPiece, [3.0, 0.0, 5.0, 2.0, 0.0], 3.0)
        .calculate()
        .unwrap();
    assert_eq!((none.longest_mm, none.choose_mm), (0.0, None));
    assert!(none.reason.unwrap().contains("no room"));
    let idle = Nailing {
        stock_mm: vec![10.0],
        ..nailing(Direction::Inside, [4.0, 4.0, 6.0, 30.0, 6.0], 3.0)
    };
    assert!(idle.calculate().unwrap().reason.unwrap().contains("14 mm down"));
}

/// Closed form: 25 mm of block, and the nail of 25 mm ends where the seat begins. With a block of 20, 25 mm are too
/// long and 22 mm reach 2 mm into the seat.
#[test]
fn from_below_it_is_said_that_the_seat_is_not_reached() {
    let below = |block| {
        nailing(Direction::Below, [3.0, 0.0, 5.0, block, 0.0], 3.0)
            .calculate()
            .unwrap()
    };
    let short = below(25.0);
    assert_eq!((short.choose_mm, short.hold_mm), (Some(25.0), Some(0.0)));
    assert_eq!(short.fit, NailFit::EndsBefore { before_mm: 25.0 });
    let reason = short.reason.unwrap();
    assert!(
        reason.starts_with("25 mm into a 25 mm block from below does not reach the seat"),
        "{reason}"
    );
    let reaches = below(20.0);
    assert_eq!(
        (reaches.hold_mm, reaches.fit, reaches.reason),
        (Some(2.0), NailFit::Holds, None)
    );
}

/// Common practice, no source: a nail holds with at least 8 mm in the base. From inside through 8 mm: 16 − 8 = 8 holds,
/// 14 − 8 = 6 is little; through a top piece of 6, 13 − 6 = 7 is little.
#[test]
fn a_short_hold_in_the_base_is_warned_of() {
    for (direction, block, choose, hold, fit) in [
        (Direction::Inside, 12.0, 16.0, 8.0, NailFit::Holds),
        (Direction::Inside, 10.0, 14.0, 6.0, NailFit::HoldsLittle),
        (Direction::TopPiece, 11.0, 13.0, 7.0, NailFit::HoldsLittle),
    ] {
        let nails = nailing(direction, [3.0, 0.0, 5.0, block, 6.0], 3.0)
            .calculate()
            .unwrap();
        assert_eq!(
            (nails.choose_mm, nails.hold_mm, nails.fit),
            (Some(choose), Some(hold), fit)
        );
        assert_eq!(
            nails
                .reason
                .is_some_and(|reason| reason.contains("8 mm are the least")),
            fit == NailFit::HoldsLittle
        );
    }
}

/// One heel-building page: 1/4 in from the edge and 1/2 in apart come to 11 to 14 on a heel of 65 × 60.
#[test]
fn half_an_inch_apart() {
    let asked = Nailing {
        outline_mm: Some(heel(60.0, 65.0)),
        spacing_mm: Some(12.7),
        shank: Some(Shank::Threaded),
        ..nailing(Direction::Inside, [3.0, 0.0, 5.0, 20.0, 6.0], 3.0)
    };
    let nails = asked.calculate().unwrap();
    assert!((11..=14).contains(&nails.count), "{}", nails.count);
    assert_eq!(nails.positions_mm.len(), nails.count as usize);
    assert!(nails.prepunch);
}

#[test]
fn what_does_not_go_together_is_named() {
    let plain = nailing(Direction::Inside, [3.0, 0.0, 5.0, 20.0, 6.0], 3.0);
    let with = |change: fn(&mut Nailing)| {
        let mut asked = plain.clone();
        change(&mut asked);
        asked.calculate().unwrap_err().field
    };
    assert_eq!(with(|asked| asked.spacing_mm = Some(12.7)), "spacing_mm");
    assert_eq!(with(|asked| asked.inset_mm = Some(6.0)), "inset_mm");
    assert_eq!(with(|asked| asked.count = Some(0)), "count");
    assert_eq!(with(|asked| asked.stock_mm = vec![]), "stock_mm");
    assert_eq!(with(|asked| asked.layers_mm.block = f64::NAN), "layers_mm.block");
    let wide = |asked: &mut Nailing| {
        asked.outline_mm = Some(heel(60.0, 65.0));
        asked.inset_mm = Some(40.0);
    };
    assert_eq!(with(wide), "inset_mm");
}

fn layers() -> impl Strategy<Value = [f64; 5]> {
    [0.0..8.0f64, 0.0..6.0, 0.0..8.0, 0.0..60.0, 0.0..10.0]
}

proptest! {
    /// From inside the point has the block below it, and the top piece; from below it has the insole above; through the
    /// top piece it has the rest of the block.
    #[test]
    fn from_no_direction_does_a_point_reach_a_face_it_must_not(
        layers in layers(), clearance in 0.0..6.0f64, stock in prop::collection::vec(1.0..90.0f64, 1..12),
        direction in prop::sample::select(vec![Direction::Inside, Direction::Below, Direction::TopPiece]),
    ) {
        let asked = Nailing { stock_mm: stock.clone(), ..nailing(direction, layers, clearance) };
        let [insole, midsole, seat, block, top_piece] = layers;
        let to_face = match direction {
            Direction::Inside | Direction::Below => insole + midsole + seat + block,
            Direction::TopPiece => top_piece + block,
        };
        match asked.calculate().unwrap() {
            Nails { choose_mm: Some(nail), .. } => {
                prop_assert!(stock.contains(&nail));
                prop_assert!(to_face - nail > clearance - 1e-9);
                prop_assert!(!stock.iter().any(|other| *other > nail && *other < to_face - clearance - 1e-9));
            }
            Nails { reason, .. } => {
                prop_assert!(reason.is_some());
                prop_assert!(stock.iter().all(|nail| *nail >= to_face - clearance - 1e-9));
            }
        }
    }

    #[test]
    fn every_nail_stands_off_the_edge_and_its_neighbours(
        wide in 40.0..75.0f64, long in 76.0..95.0f64, inset in 3.0..12.0f64, spacing in 8.0..25.0f64,
    ) {
        let asked = Nailing {
            outline_mm: Some(heel(wide, long)), inset_mm: Some(inset), spacing_mm: Some(spacing),
            ..nailing(Direction::Inside, [3.0, 0.0, 5.0, 20.0, 6.0], 3.0)
        };
        let nails = asked.calculate().unwrap();
        let outline = Outline::convex(&FIELD, &heel(wide, long)).unwrap();
        let turns = outline.signed_area().signum();
        for nail in &nails.positions_mm {
            for (a, b) in outline.edges() {
                let along = [b[0] - a[0], b[1] - a[1]];
                let off = turns * (along[0] * (nail[1] - a[1]) - along[1] * (nail[0] - a[0])) / along[0].hypot(along[1]);
                prop_assert!(off > inset - 1e-7, "{off}");
            }
        }
        let line = outline.drawn_in(inset).perimeter();
        prop_assert!(line / f64::from(nails.count) >= spacing && line / f64::from(nails.count + 1) < spacing);
    }

    #[test]
    fn the_other_shoe_gets_the_mirrored_nails(wide in 40.0..75.0f64, count in 3u32..15) {
        let nails = |outline_mm| {
            let asked = Nailing {
                outline_mm: Some(outline_mm), count: Some(count),
                ..nailing(Direction::Inside, [3.0, 0.0, 5.0, 20.0, 6.0], 3.0)
            };
            asked.calculate().unwrap().positions_mm
        };
        let here = nails(heel(wide, 80.0));
        let there = nails(heel(wide, 80.0).into_iter().map(|[x, y]| [-x, y]).collect());
        prop_assert_eq!(here.len(), there.len());
        for (a, b) in here.iter().zip(&there) {
            prop_assert!((a[0] + b[0]).abs() < 1e-7 && (a[1] - b[1]).abs() < 1e-7);
        }
    }
}
