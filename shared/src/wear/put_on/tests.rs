use proptest::prelude::*;

use super::*;
use crate::trade::operations::operations;

fn done<'a>(operation: &'a str, side: &'a Side, at_ms: i64) -> DoneWork<'a> {
    DoneWork {
        operation,
        side,
        at_ms,
    }
}

/// The part, the shoe, `by` and `until` of everything that was put on.
fn told(all: &[DoneWork<'_>]) -> Vec<(Component, Side, usize, Option<usize>)> {
    let one = |one: PutOn| (one.part, one.shoe, one.by, one.until);
    put_on(all).into_iter().map(one).collect()
}

#[test]
fn a_top_piece_is_on_until_the_next_on_the_same_shoe() {
    let all = [
        done("top_piece_replacement", &Side::Both, 1),
        done("top_piece_replacement", &Side::Left, 2),
    ];
    let top = Component::TopPiece;
    assert_eq!(
        told(&all),
        [
            (top.clone(), Side::Left, 0, Some(1)),
            (top.clone(), Side::Right, 0, None),
            (top, Side::Left, 1, None),
        ]
    );
}

/// A guard over a half sole leaves it on; a new sole takes both off.
#[test]
fn what_lies_over_a_part_does_not_end_it_and_what_lies_under_does() {
    let left = Side::Left;
    let mut all = vec![done("half_sole", &left, 1), done("sole_guard", &left, 2)];
    let until = |all: &[DoneWork<'_>]| told(all).into_iter().map(|one| one.3).collect::<Vec<_>>();
    assert_eq!(until(&all), [None, None]);
    all.push(done("resole_welted", &left, 3));
    assert_eq!(until(&all), [Some(2), Some(2), None]);
}

/// A guard that is put on later leaves the new sole on; the next sole takes the guard off.
#[test]
fn a_guard_is_a_part_of_its_own_over_the_sole() {
    let left = Side::Left;
    let all = [
        done("resole_welted", &left, 1),
        done("sole_guard", &left, 2),
        done("sole_guard", &left, 3),
        done("half_sole", &left, 4),
    ];
    let (sole, guard) = (Component::Outsole, Component::SoleGuard);
    assert_eq!(
        told(&all),
        [
            (sole.clone(), Side::Left, 0, None),
            (guard.clone(), Side::Left, 1, Some(2)),
            (guard, Side::Left, 2, Some(3)),
            (sole, Side::Left, 3, None),
        ]
    );
}

#[test]
fn a_heel_that_is_built_again_loses_what_was_under_it() {
    let right = Side::Right;
    let all = [
        done("top_piece_replacement", &right, 1),
        done("heel_block_rebuild", &right, 2),
    ];
    let gone: Vec<_> = put_on(&all)
        .into_iter()
        .filter(|one| one.until.is_some())
        .collect();
    assert_eq!(gone.len(), 1);
    assert_eq!((&gone[0].part, gone[0].until), (&Component::TopPiece, Some(1)));
}

#[test]
fn work_is_read_by_when_it_was_done_and_then_as_it_came() {
    let side = Side::Left;
    let late_first = [done("heel_grip", &side, 9), done("heel_grip", &side, 1)];
    assert_eq!(told(&late_first)[0].2, 1, "the older is told first");
    assert_eq!(told(&late_first)[0].3, Some(0));
    let at_once = [done("heel_grip", &side, 5), done("heel_grip", &side, 5)];
    assert_eq!(told(&at_once)[0].3, Some(1));
}

fn any_side() -> impl Strategy<Value = Side> {
    prop_oneof![
        Just(Side::Both),
        Just(Side::Left),
        Just(Side::Right),
        Just(Side::Other("third".to_owned())),
    ]
}

proptest! {
    #[test]
    fn parts_follow_one_another_on_each_shoe(
        work in prop::collection::vec((0..operations().count(), any_side(), 0_i64..20), 0..30)
    ) {
        let all: Vec<_> = work.iter().map(|(at, side, ms)| done(code_at(*at), side, *ms)).collect();
        let found = put_on(&all);
        for (at, one) in found.iter().enumerate() {
            let step = all[one.by];
            prop_assert!(part_effects(step.operation).on.iter().any(|fit| fit.part == one.part));
            prop_assert!(*step.side == Side::Both || *step.side == one.shoe, "on the shoe that was worked on");
            if let Some(until) = one.until {
                let (from, to) = ((step.at_ms, one.by), (all[until].at_ms, until));
                prop_assert!(from < to, "nothing comes off before it is on");
                let side = all[until].side;
                prop_assert!(*side == Side::Both || *side == one.shoe, "left and right apart");
            }
            // Of several that the same work put on the same part of one shoe, only the last is on.
            let again = found[at + 1..].iter().find(|later| {
                (&later.part, &later.shoe) == (&one.part, &one.shoe)
                    && all[later.by].operation == step.operation
            });
            prop_assert!(again.is_none() || one.until.is_some());
        }
    }

    #[test]
    fn one_shoe_knows_nothing_of_the_other(
        work in prop::collection::vec((0..operations().count(), any_side(), 0_i64..20), 0..20)
    ) {
        let all: Vec<_> = work.iter().map(|(at, side, ms)| done(code_at(*at), side, *ms)).collect();
        let of_left = |all: &[DoneWork<'_>]| -> Vec<_> {
            let left = put_on(all).into_iter().filter(|one| one.shoe == Side::Left);
            left.map(|one| (one.part, all[one.by].at_ms, one.until.map(|at| all[at].at_ms))).collect()
        };
        let without: Vec<_> = all.iter().copied().filter(|one| *one.side != Side::Right).collect();
        prop_assert_eq!(of_left(&all), of_left(&without));
    }
}

/// The code of the operation at a place of the trade's list.
fn code_at(place: usize) -> &'static str {
    operations().nth(place).expect("a place in the list").code
}
