use proptest::prelude::*;
use uuid::Uuid;

use super::apportion;
use super::*;
use crate::log::body::{Cause, Gift, GiftWhy, Side};
use crate::log::entry::SubjectId;
use crate::price::materials::Stock;
use crate::price::records::{ComplaintFact, LineFact, Money, StepFact};
use crate::trade::Goods;

fn id(n: u128) -> SubjectId {
    SubjectId(Uuid::from_u128(n))
}

fn person(n: u128) -> PersonId {
    PersonId(Uuid::from_u128(n))
}

/// The first of a month of 2025, noon.
fn month(n: i64) -> At {
    At(
        (crate::trade::formulas::day::Day::of(2025, n, 1).unwrap().count() * 24 + 12) * 3_600_000,
        0,
    )
}

fn line(operation: &str, price: i64, gift: Option<(GiftWhy, i64)>) -> LineFact {
    LineFact {
        pieces: 1,
        variant: None,
        operation: operation.into(),
        side: Side::Both,
        price_minor: Minor(price),
        gift: gift.map(|(why, worth)| Gift {
            why,
            worth_minor: Minor(worth),
        }),
        damage: None,
    }
}

fn job(n: u128, lines: Vec<LineFact>) -> JobFacts {
    JobFacts {
        job: id(n),
        ticket: Some(id(100 + n)),
        goods: Goods::LowShoe,
        guessed: Some(Construction::Cemented),
        opened_as: None,
        soles: Vec::new(),
        lines,
        found: Vec::new(),
        parts: Vec::new(),
        steps: Vec::new(),
        people: Vec::new(),
        thickness: Vec::new(),
        complaint: None,
        tax: None,
        opened_at: Some(month(1)),
        ready_at: Some(month(2)),
        handed_over_at: Some(month(3)),
        unrepaired: false,
    }
}

fn worked(n: u128, operation: &str, by: u128, minutes: f64) -> Attended {
    Attended {
        job: id(n),
        operation: Some(operation.into()),
        person: Some(person(by)),
        minutes,
        noted: false,
    }
}

fn no_stock(_: &str) -> Vec<Stock> {
    Vec::new()
}

/// By hand: 95.00 with 19 % in it is 79.83 and 15.17; a shank of 18.00 was needed, a touch of colour of 12.00 was given; an
/// hour and a half of one and half an hour of the other; 79.83 in two hours is 39.92 (39.915, halves up) an hour.
#[test]
fn one_job_in_every_row_it_belongs_to() {
    let lines = vec![
        line("resole_cemented", 9_500, None),
        line("shank_replacement", 0, Some((GiftWhy::Needed, 1_800))),
        line("colour_touch_up", 0, Some((GiftWhy::MyChoice, 1_200))),
    ];
    let one = JobFacts {
        tax: Some(190),
        ..job(1, lines)
    };
    let attended = [
        worked(1, "resole_cemented", 7, 70.0),
        worked(1, "sole_off", 7, 10.0),
        worked(1, "shank_replacement", 7, 10.0),
        worked(1, "colour_touch_up", 8, 30.0),
    ];
    let books = Books::of(&[one], &[], &attended, &no_stock);
    let march = &books.months[&(2025, 3)];
    assert_eq!(
        (march.jobs, march.revenue, march.tax),
        (1, Minor(7_983), Minor(1_517))
    );
    assert_eq!((march.needed.worth, march.needed.minutes), (Minor(1_800), 10.0));
    assert_eq!((march.choice.worth, march.choice.minutes), (Minor(1_200), 30.0));
    assert_eq!(
        (march.minutes, march.earned_per_hour()),
        (120.0, Some(Minor(3_992)))
    );
    assert_eq!(
        books.operations.len(),
        1,
        "what nobody paid for stands with what it was done for"
    );
    let resole = &books.operations["resole_cemented"];
    assert_eq!(
        (resole.minutes, resole.revenue, resole.earned_per_hour()),
        (120.0, Minor(7_983), Some(Minor(3_992)))
    );
    assert_eq!(books.constructions[&Some(Construction::Cemented)], *march);
    let by = |n| &books.people[&Some(person(n))];
    assert_eq!((by(7).minutes, by(8).minutes), (90.0, 30.0));
    assert_eq!(
        (by(7).revenue, by(8).revenue),
        (Minor(5_987), Minor(1_996)),
        "three quarters, to the cent"
    );
}

#[test]
fn deposits_what_is_owed_and_what_is_held() {
    let paid = |minor, what, at| Money {
        minor,
        what,
        at,
        person: None,
    };
    let gone = TicketFacts {
        ticket: id(101),
        money: vec![
            paid(Minor(2_000), Paid::Deposit, month(1)),
            paid(Minor(5_000), Paid::Balance, month(3)),
            paid(Minor(-500), Paid::Refund, month(4)),
        ],
        tax: None,
        sold: Vec::new(),
    };
    let here = TicketFacts {
        ticket: id(102),
        money: vec![paid(Minor(1_000), Paid::Deposit, month(2))],
        tax: None,
        sold: Vec::new(),
    };
    let jobs = [
        job(1, vec![line("half_sole", 8_000, None)]),
        JobFacts {
            handed_over_at: None,
            ..job(2, vec![line("half_sole", 4_000, None)])
        },
    ];
    let books = Books::of(&jobs, &[gone, here], &[], &no_stock);
    let of = |month| &books.months[&(2025, month)];
    assert_eq!(
        (of(1).deposits, of(3).balances, of(4).refunds),
        (Minor(2_000), Minor(5_000), Minor(-500))
    );
    assert_eq!((of(3).unpaid, books.held), (Minor(1_500), Minor(1_000)));
    assert_eq!(of(2).revenue, Minor(0), "it is still here");
    assert_eq!(of(3).earned_per_hour(), None, "nobody knows the minutes");
}

/// Laces for 4.00, sold by person 7.
fn laces(at: At) -> SoldGoods {
    SoldGoods {
        what: "laces".to_owned(),
        count: 1,
        minor: Minor(400),
        at,
        person: Some(person(7)),
    }
}

fn ticket(n: u128, tax: Option<i64>, paid: i64, sold: At) -> TicketFacts {
    let paid = Money {
        minor: Minor(paid),
        what: Paid::Balance,
        at: month(2),
        person: None,
    };
    TicketFacts {
        ticket: id(100 + n),
        money: vec![paid],
        tax,
        sold: vec![laces(sold)],
    }
}

/// By hand: of 99.00 with 19 % in it, 15.81 are tax, and 4 of 99 parts of that 0.64. Work for 95.00 leaves 79.83.
#[test]
fn goods_are_sold_in_their_own_month_and_share_the_tax_of_the_ticket() {
    let jobs = [JobFacts {
        tax: Some(190),
        ..job(1, vec![line("half_sole", 9_500, None)])
    }];
    let tickets = [ticket(1, Some(190), 9_900, month(2))];
    let books = Books::of(&jobs, &tickets, &[worked(1, "half_sole", 8, 60.0)], &no_stock);
    let february = &books.months[&(2025, 2)];
    assert_eq!((february.revenue, february.tax), (Minor(336), Minor(64)));
    assert_eq!((february.jobs, february.balances), (0, Minor(9_900)));
    let march = &books.months[&(2025, 3)];
    assert_eq!((march.revenue, march.tax), (Minor(7_983), Minor(1_517)));
    for row in [
        &books.operations[GOODS_SOLD],
        &books.constructions[&None],
        &books.people[&Some(person(7))],
    ] {
        assert_eq!(
            (row.revenue, row.goods, row.tax),
            (Minor(336), Minor(336), Minor(64))
        );
    }
    assert_eq!((march.unpaid, books.held), (Minor::ZERO, Minor::ZERO));

    // A part of the months has the same amounts.
    let part = Books::within(&jobs, &tickets, &[], &no_stock, &|month| month == (2025, 2));
    assert_eq!(part.months.keys().collect::<Vec<_>>(), [&(2025, 2)]);
    assert_eq!(part.months[&(2025, 2)].revenue, Minor(336));
    assert_eq!(part.operations.len(), 1);
}

/// 8.1 % on 4.00 is 0.32.
#[test]
fn a_sale_alone_is_in_the_books() {
    let books = Books::of(&[], &[ticket(1, Some(-81), 200, month(4))], &[], &no_stock);
    let april = &books.months[&(2025, 4)];
    assert_eq!((april.revenue, april.tax), (Minor(400), Minor(32)));
    assert_eq!((april.unpaid, books.held), (Minor(232), Minor::ZERO));
    assert_eq!(books.months[&(2025, 2)].balances, Minor(200));
    let wrong = Books::of(&[], &[ticket(1, None, 400, At(0, 0))], &[], &no_stock);
    assert_eq!((wrong.undated, wrong.operations.len()), (1, 0));
}

#[test]
fn what_goods_cost_is_not_held_for_a_pair() {
    let here = JobFacts {
        handed_over_at: None,
        ..job(1, vec![line("half_sole", 4_000, None)])
    };
    let held = |paid| {
        Books::of(
            std::slice::from_ref(&here),
            &[ticket(1, None, paid, month(2))],
            &[],
            &no_stock,
        )
        .held
    };
    assert_eq!(
        [held(1_000), held(400), held(0)],
        [Minor(600), Minor::ZERO, Minor::ZERO]
    );
}

#[test]
fn goods_bring_no_hour_of_work_in() {
    let jobs = [job(1, vec![line("half_sole", 4_000, None)])];
    let attended = [worked(1, "half_sole", 8, 60.0)];
    let books = Books::of(&jobs, &[ticket(1, None, 0, month(3))], &attended, &no_stock);
    let march = &books.months[&(2025, 3)];
    assert_eq!(
        (march.revenue, march.earned_per_hour()),
        (Minor(4_400), Some(Minor(4_000)))
    );
}

#[test]
fn a_complaint_is_told_by_its_cause_and_earns_what_is_paid_on_it() {
    let complaint = ComplaintFact {
        job: id(1),
        operation: "half_sole".into(),
        cause: Some(Cause::Material),
    };
    let step = StepFact {
        pieces: 1,
        operation: "half_sole".into(),
        side: Side::Both,
        minutes: None,
        person: None,
        at: month(2),
        used: Vec::new(),
        redone: true,
        scrap: "a sole".to_owned(),
        cement: None,
    };
    let again = JobFacts {
        complaint: Some(complaint),
        steps: vec![
            step.clone(),
            StepFact {
                redone: false,
                ..step
            },
        ],
        ..job(2, vec![line("half_sole", 0, None), line("new_hole", 300, None)])
    };
    let rubber = |_: &str| {
        vec![Stock {
            material: "rubber".into(),
            unit: "pair".into(),
            cost_minor: Minor(600),
            quantity: 1.0,
            waste: 0.0,
            id: None,
        }]
    };
    let worked = [worked(2, "half_sole", 7, 40.0), worked(2, "new_hole", 7, 5.0)];
    let books = Books::of(&[again], &[], &worked, &rubber);
    let hole = &books.operations["new_hole"];
    assert_eq!((hole.revenue, hole.minutes, hole.jobs), (Minor(300), 5.0, 1));
    let row = &books.operations["half_sole"];
    assert_eq!((row.revenue, row.steps_again), (Minor::ZERO, 1));
    assert_eq!(
        row.redone[&Some(Cause::Material)],
        Redone {
            jobs: 1,
            minutes: 40.0,
            materials: Minor(1_200)
        }
    );
    assert_eq!(row.earned_per_hour(), Some(Minor(-1_800)), "scrap counts");
}

#[test]
fn clocks_that_cannot_be_right_are_told_apart() {
    let wrong = JobFacts {
        handed_over_at: Some(At(0, 0)),
        ..job(1, vec![line("half_sole", 4_000, None)])
    };
    let books = Books::of(&[wrong], &[], &[], &no_stock);
    assert_eq!((books.undated, books.months.len()), (1, 0));
    assert_eq!(Books::of(&[], &[], &[], &no_stock), Books::default());
}

fn any_line() -> impl Strategy<Value = LineFact> {
    (0usize..4, 0i64..20_000, 0u8..3).prop_map(|(operation, price, gift)| {
        let operation = ["half_sole", "stretch", "resole_welted", "shank_replacement"][operation];
        match gift {
            0 => line(operation, 0, Some((GiftWhy::Needed, price))),
            1 => line(operation, 0, Some((GiftWhy::MyChoice, price))),
            _ => line(operation, price, None),
        }
    })
}

proptest! {
    #[test]
    fn parts_add_up_to_the_whole(minor in any::<i64>(), weights in prop::collection::vec(0.0..1e6f64, 1..9)) {
        // Above 2^53 a float does not hold every whole amount, but the parts still add up.
        let amount = Minor(minor / 4);
        prop_assert_eq!(apportion(amount, &weights).into_iter().sum::<Minor>(), amount);
    }

    /// Revenue and minutes have the same sum in every grouping.
    #[test]
    fn every_cut_has_the_same_sum(
        jobs in prop::collection::vec((prop::collection::vec(any_line(), 1..5), 0u128..3, prop::option::of(-200i64..300), any::<bool>()), 1..8),
        minutes in prop::collection::vec((0u128..8, 0usize..5, 0u128..3, 0.0..90.0f64), 0..20),
    ) {
        let operations = ["half_sole", "stretch", "resole_welted", "shank_replacement", ""];
        let jobs: Vec<_> = (0u128..).zip(jobs).map(|(n, (lines, ticket, tax, unrepaired))| JobFacts {
            ticket: Some(id(100 + ticket)), tax, unrepaired, ..job(n, lines)
        }).collect();
        let attended: Vec<_> = minutes.into_iter().map(|(n, operation, by, minutes)| worked(n, operations[operation], by, minutes)).collect();
        let books = Books::of(&jobs, &[], &attended, &no_stock);
        let sum = |rows: Vec<&Sums>| rows.iter().fold(Sums::default(), |mut sum, row| { sum.add(row); sum });
        let months = sum(books.months.values().collect());
        let constructions = sum(books.constructions.values().collect());
        let people = sum(books.people.values().collect());
        prop_assert_eq!(months.revenue, people.revenue);
        prop_assert_eq!(months.tax, people.tax);
        prop_assert_eq!(months.needed.worth, people.needed.worth);
        prop_assert_eq!(months.revenue, constructions.revenue);
        prop_assert!((months.minutes - people.minutes).abs() < 1e-6);
        let operations = sum(books.operations.values().collect());
        let paid = |row: &JobFacts| !row.unrepaired && row.lines.iter().any(|line| line.gift.is_none());
        if jobs.iter().all(paid) {
            prop_assert_eq!(months.revenue, operations.revenue);
        }
        prop_assert!(months.revenue >= Minor(0));
    }
}
