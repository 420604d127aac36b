use uuid::Uuid;

use super::PaidTogether::{All, Gone, Ready, This};
use super::PairStage::InWork;
use super::*;

fn job(n: u128) -> SubjectId {
    SubjectId(Uuid::from_u128(n))
}

/// A ticket with pairs at these prices, numbered from 0, on which so much has been paid.
fn account(rate: Option<i64>, paid: i64, pairs: &[(i64, PairStage)]) -> TicketAccount {
    selling(None, rate, paid, pairs)
}

/// The same with goods at this price.
fn selling(goods: Option<i64>, rate: Option<i64>, paid: i64, pairs: &[(i64, PairStage)]) -> TicketAccount {
    let goods = goods.map(Minor);
    let pairs: Vec<PairPrice> = (0..)
        .zip(pairs)
        .map(|(n, (price, stage))| PairPrice {
            job: job(n),
            price: Minor(*price),
            stage: *stage,
        })
        .collect();
    TicketAccount {
        bill: Bill {
            rate,
            total: bill::due(pairs.iter().map(|pair| pair.price).chain(goods), rate),
            paid: Minor(paid),
        },
        pairs,
        goods,
    }
}

fn dues<const N: usize>(account: &TicketAccount, pairs: [PaidTogether; N]) -> [i64; N] {
    pairs.map(|pairs| account.due(pairs).0)
}

/// The amounts that are named: pairs, their count, minor units, and whether others that have left are in it.
fn named(account: &TicketAccount, this: Option<SubjectId>) -> Vec<(PaidTogether, usize, i64, bool)> {
    let amounts = account.amounts(this).into_iter();
    amounts
        .map(|amount| (amount.pairs, amount.count, amount.minor.0, amount.with_gone))
        .collect()
}

/// 48.00 and 3.00, of which 20.00 are paid.
#[test]
fn a_deposit_counts_for_the_pairs_that_leave_first() {
    let before = account(None, 2_000, &[(4_800, PairStage::Ready), (300, InWork)]);
    assert_eq!(
        dues(&before, [This(job(0)), This(job(1)), Ready, All]),
        [2_800, 0, 2_800, 3_100]
    );
    assert_eq!(
        named(&before, Some(job(0))),
        [(This(job(0)), 1, 2_800, false), (All, 2, 3_100, false)]
    );
    assert_eq!(
        named(&before, None),
        [(Ready, 1, 2_800, false), (All, 2, 3_100, false)]
    );
    assert_eq!(named(&before, Some(job(1))), [(All, 2, 3_100, false)]);

    // The small one has left and is paid by the deposit, of which 17.00 are left for the other.
    let after = account(None, 2_000, &[(4_800, PairStage::Ready), (300, PairStage::Gone)]);
    assert_eq!(dues(&after, [This(job(0)), Ready, All]), [3_100; 3]);
}

/// 8.1 % on 65.00 is 5.265, to the nearest cent 5.27; on 68.00 it is 5.508, to the nearest cent 5.51.
#[test]
fn tax_that_is_added_is_in_the_amount() {
    let both = [(6_500, PairStage::Ready), (300, InWork)];
    let before = account(Some(-81), 2_000, &both);
    assert_eq!(dues(&before, [This(job(0)), Ready, All]), [5_027, 5_027, 5_351]);
    let paid = account(
        Some(-81),
        7_027,
        &[(6_500, PairStage::Gone), (300, PairStage::Ready)],
    );
    assert_eq!(dues(&paid, [Gone, This(job(1)), All]), [0, 324, 324]);
}

/// 5 % on 0.10, 0.20 and 0.30 is half a cent, 1 cent and one and a half: 0.11, 0.21 and 0.32. Alone, each would cost
/// 0.11, together 0.33.
#[test]
fn pairs_that_leave_one_after_another_pay_what_the_ticket_costs() {
    let (mut pairs, mut paid) = ([(10, InWork); 3], 0);
    for (at, due) in [11, 10, 11].into_iter().enumerate() {
        let now = account(Some(-50), paid, &pairs);
        let next = u128::try_from(at).unwrap();
        assert_eq!(now.due(This(job(next))), Minor(due), "pair {at}");
        (pairs[at].1, paid) = (PairStage::Gone, paid + due);
    }
    assert_eq!(dues(&account(Some(-50), paid, &pairs), [Gone, All]), [0, 0]);
}

#[test]
fn what_pairs_that_have_left_owe_is_due_with_the_next_one() {
    let owing = account(
        None,
        0,
        &[(300, PairStage::Gone), (4_800, PairStage::Ready), (1_000, InWork)],
    );
    assert_eq!(
        dues(&owing, [Gone, This(job(1)), Ready, All]),
        [300, 5_100, 5_100, 6_100]
    );
    assert_eq!(
        named(&owing, Some(job(1))),
        [
            (Gone, 1, 300, false),
            (This(job(1)), 1, 5_100, true),
            (All, 3, 6_100, false)
        ]
    );
    // On the page of the pair that has left, what is due for it is not named a second time.
    assert_eq!(
        named(&owing, Some(job(0))),
        [
            (Gone, 1, 300, false),
            (Ready, 1, 5_100, true),
            (All, 3, 6_100, false)
        ]
    );
}

/// 48.00 and 3.00. Of 50.00 paid, 2.00 would be over if only the first left; of 60.00, 9.00 are over in any case.
#[test]
fn nothing_is_given_back_before_the_whole_ticket_is_overpaid() {
    let pairs = [(4_800, PairStage::Ready), (300, InWork)];
    let enough = account(None, 5_000, &pairs);
    assert_eq!(dues(&enough, [This(job(0)), This(job(1)), All]), [0, 0, 100]);
    let over = account(None, 6_000, &pairs);
    assert_eq!(dues(&over, [Gone, This(job(0)), This(job(1)), All]), [-900; 4]);
    assert_eq!(named(&over, Some(job(0))), [(All, 2, -900, false)]);
    let even = account(None, 5_100, &pairs);
    assert!(named(&even, Some(job(0))).is_empty());
}

#[test]
fn a_pair_the_ready_ones_and_the_ticket_have_amounts_of_their_own() {
    let pairs = [
        (4_800, PairStage::Ready),
        (300, PairStage::Ready),
        (1_000, InWork),
    ];
    let three = account(None, 0, &pairs);
    assert_eq!(
        named(&three, Some(job(1))),
        [
            (This(job(1)), 1, 300, false),
            (Ready, 2, 5_100, false),
            (All, 3, 6_100, false)
        ]
    );
    // The third pair is not one of those that are ready.
    assert_eq!(
        named(&three, Some(job(2))),
        [(This(job(2)), 1, 1_000, false), (All, 3, 6_100, false)]
    );
    // One amount for the only pair of a ticket, and for two pairs that are both ready.
    let one = account(None, 0, &pairs[..1]);
    assert_eq!(named(&one, Some(job(0))), [(All, 1, 4_800, false)]);
    assert_eq!(
        named(&account(None, 0, &pairs[..2]), None),
        [(All, 2, 5_100, false)]
    );
}

/// Only another app writes such a price: 48.00, less 3.00 for a pair that is still in work.
#[test]
fn no_part_of_a_ticket_costs_more_than_the_ticket() {
    let off = account(None, 0, &[(4_800, PairStage::Ready), (-300, InWork)]);
    assert_eq!(dues(&off, [Ready, This(job(1)), All]), [4_500, 0, 4_500]);
}

/// Laces for 4.00 beside 48.00 and 3.00.
#[test]
fn goods_have_left_at_once() {
    let pairs = [(4_800, PairStage::Ready), (300, InWork)];
    let unpaid = selling(Some(400), None, 0, &pairs);
    assert_eq!(
        dues(&unpaid, [Gone, This(job(0)), This(job(1)), Ready, All]),
        [400, 5_200, 700, 5_200, 5_500]
    );
    assert_eq!(
        named(&unpaid, None),
        [
            (Gone, 0, 400, false),
            (Ready, 1, 5_200, true),
            (All, 2, 5_500, false)
        ]
    );
    // A deposit pays for them first.
    let deposit = selling(Some(400), None, 1_000, &pairs);
    assert_eq!(dues(&deposit, [Gone, This(job(0)), All]), [0, 4_200, 4_500]);
    assert_eq!(
        named(&deposit, Some(job(1))),
        [(All, 2, 4_500, false)],
        "6.00 are over for the pair in work"
    );
    // Beside the only pair of a ticket they are a part of their own.
    let one = selling(Some(400), None, 0, &pairs[..1]);
    assert_eq!(
        named(&one, Some(job(0))),
        [(Gone, 0, 400, false), (All, 1, 5_200, false)]
    );
}

/// 8.1 % on 4.00 is 0.324.
#[test]
fn goods_alone_are_asked_for_whole() {
    let alone = selling(Some(400), Some(-81), 0, &[]);
    assert_eq!(dues(&alone, [Gone, Ready, All]), [432; 3]);
    assert_eq!(named(&alone, None), [(All, 0, 432, false)]);
    let paid = selling(Some(400), Some(-81), 432, &[]);
    assert!(named(&paid, None).is_empty());
    let over = selling(Some(400), None, 1_000, &[]);
    assert_eq!(named(&over, None), [(All, 0, -600, false)]);
}
