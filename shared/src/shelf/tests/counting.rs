//! What is there: counts, arrivals, steps and orders.

use super::*;

/// By hand: 5 sheets, less 0.156 for a pair, half of that for one shoe and a stated half, and one that arrived.
#[test]
fn what_is_there_follows_from_counts_arrivals_and_steps() {
    let mut said_so_far = vec![
        step(1, Side::Both, Vec::new()),
        counted(2, 5_000, 5_000, &[]),
        step(3, Side::Both, Vec::new()),
        step(4, Side::Left, Vec::new()),
        step(5, Side::Both, of_sheet(500)),
        arrived(6, 1_000, None),
    ];
    let now = row(&said_so_far);
    assert_eq!(
        now.on_hand,
        Some(5_266),
        "the step before the first count took of no sheet that was counted"
    );
    assert_eq!((now.by_last_count, now.check), (Some(5_266), None));
    assert_eq!(now.last_used, Some(UnixMs(MORNING + 5 * MINUTE)));

    let redo = Redo {
        step: entry_id(5),
        scrap: "half a sheet".to_owned(),
    };
    said_so_far.push(said(7, &job(), &Body::Redo(redo), &[]));
    assert_eq!(row(&said_so_far).on_hand, Some(5_266), "scrap is not there");
    said_so_far.push(taken_back(8, &job(), 5));
    assert_eq!(
        row(&said_so_far).on_hand,
        Some(5_766),
        "a step that was taken back gives it back"
    );
    assert_eq!(row(&said_so_far[..1]).on_hand, None, "never counted");
}

#[test]
fn what_is_below_the_least_is_ordered_until_it_is_on_order() {
    let mut all = vec![counted(1, 1_400, 1_400, &[])];
    let missing = |all: &[ReceivedEntry]| (row(all).is_below_least(), row(all).missing());
    assert_eq!(missing(&all), (true, 600));
    all.push(ordered(2, 500));
    assert_eq!(missing(&all), (true, 100), "not enough is ordered");
    all.push(ordered(3, 1_000));
    assert_eq!((missing(&all), row(&all).on_order), ((true, 0), 1_500));
    all.push(arrived(4, 700, Some(3)));
    assert_eq!(
        (row(&all).on_hand, row(&all).on_order),
        (Some(2_100), 800),
        "a part has come"
    );
    all.push(taken_back(5, &sheet(), 3));
    assert_eq!(row(&all).on_order, 500, "called off; what came stays");
    assert_eq!(row(&all).on_hand, Some(2_100));
}

/// Two devices see 7 sheets where both expect 10: the difference is added twice, which the row says until somebody
/// counts who knows both.
#[test]
fn two_counts_that_did_not_know_each_other_are_told() {
    let first = counted(1, 10_000, 10_000, &[]);
    let (one, other) = (counted(2, -3_000, 7_000, &[1]), counted(3, -3_000, 7_000, &[1]));
    assert_eq!(row(&[first.clone(), one.clone()]).check, None);
    let both = [first.clone(), one.clone(), other.clone()];
    let now = row(&both);
    assert_eq!(
        (now.on_hand, now.by_last_count, now.check),
        (Some(4_000), Some(7_000), Some(CountCheck::Twice))
    );
    assert_eq!(now.shown(), Some(7_000), "what was seen");
    assert_eq!(now.seen().collect::<Vec<_>>(), [7_000, 7_000]);
    let settled = [first, one, other, counted(4, 3_000, 7_000, &[2, 3])];
    let now = row(&settled);
    assert_eq!((now.on_hand, now.check), (Some(7_000), None));
    assert_eq!(now.shown(), Some(7_000));
}

/// Two devices see the two sheets that should at least be there, where both expect three: the sum says one, but none is
/// ordered before somebody has counted again.
#[test]
fn what_is_shown_says_whether_it_is_below_the_least() {
    let first = counted(1, 3_000, 3_000, &[]);
    let now = row(&[
        first,
        counted(2, -1_000, 2_000, &[1]),
        counted(3, -1_000, 2_000, &[1]),
    ]);
    assert_eq!((now.on_hand, now.shown()), (Some(1_000), Some(2_000)));
    assert_eq!((now.is_below_least(), now.missing()), (false, 0));
}

/// A step that the counting device did not know had been made already when it counted.
#[test]
fn a_step_that_becomes_known_after_the_count_is_told() {
    let now = row(&[
        counted(1, 10_000, 10_000, &[]),
        step(2, Side::Both, of_sheet(1_000)),
        counted(3, -1_000, 9_000, &[1]),
    ]);
    assert_eq!(
        (now.on_hand, now.by_last_count, now.check),
        (Some(8_000), Some(9_000), Some(CountCheck::Late))
    );
}
