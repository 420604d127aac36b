//! Whose records are in the file.

use shared::log::SubjectKind;
use shared::log::body::{Body, Detail, Opened, Retracted, SameAs, Sold, field};
use shared::log::fold::ShopState;
use shared::price::minor::Minor;
use support::sample::{Pen, unsent};

use super::{collected, ids, plain_page, visit};
use crate::commands::money;

#[test]
fn another_customers_records_are_not_in_it() {
    let mut pen = Pen::new(1);
    let ada = visit(&mut pen, "Ada Example", None);
    let ben = visit(&mut pen, "Ben Example", None);
    // Ben brings the pair that Ada has brought.
    let lent = visit(&mut pen, "Ben Example", Some(ada.pair));
    let same = Body::SameAs(SameAs { other: lent.customer });
    let same = pen.entry(SubjectKind::Customer, ben.customer, &same);
    let all = [ada.entries, ben.entries, lent.entries, vec![same]].concat();
    let all = unsent(&all);

    let of_ada = plain_page(&collected(ada.customer, &all));
    assert!(of_ada.contains("Ada Example will call"));
    for theirs in [
        ben.customer,
        ben.pair,
        ben.job,
        lent.customer,
        lent.ticket,
        lent.job,
    ] {
        assert!(!of_ada.contains(&theirs.to_string()), "{theirs}");
    }
    assert!(!of_ada.contains("Ben"));

    let of_ben = plain_page(&collected(ben.customer, &all));
    assert_eq!(
        of_ben.matches("Ben Example will call</li>").count(),
        2,
        "both of his jobs"
    );
    assert!(
        of_ben.contains("derby of Ada Example"),
        "the pair that he brought"
    );
    assert!(!of_ben.contains("Ada Example will call"), "her job on it");
    assert!(!of_ben.contains(&ada.ticket.to_string()));
}

#[test]
fn records_that_were_joined_are_one_customers_until_they_are_taken_apart() {
    let mut pen = Pen::new(1);
    let (first, second) = (visit(&mut pen, "Ada", None), visit(&mut pen, "Ada E.", None));
    let same = Body::SameAs(SameAs {
        other: second.customer,
    });
    let same = pen.entry(SubjectKind::Customer, first.customer, &same);
    let apart = Body::Retracted(Retracted { entry: same.id });
    let apart = pen.entry(SubjectKind::Customer, first.customer, &apart);
    let joined = unsent(&[first.entries, second.entries.clone(), vec![same]].concat());
    for customer in [first.customer, second.customer] {
        assert_eq!(ids(&collected(customer, &joined).entries), ids(&joined));
    }
    let parted = [joined, unsent(&[apart])].concat();
    let of_second = collected(second.customer, &parted);
    assert_eq!(ids(&of_second.entries), ids(&unsent(&second.entries)));
}

/// Each id of the customer is learned from the one before, and the last of them owns a pair that was read before that.
#[test]
fn what_belongs_to_an_id_that_is_learned_late_is_in_it_too() {
    let mut pen = Pen::new(1);
    let visit = visit(&mut pen, "Ada", None);
    let same =
        |pen: &mut Pen, one, other| pen.entry(SubjectKind::Customer, one, &Body::SameAs(SameAs { other }));
    let mut all = visit.entries;
    let mut last = visit.customer;
    for _ in 0..5 {
        let next = pen.subject();
        all.push(same(&mut pen, last, next));
        last = next;
    }
    let owned = Opened {
        customer: Some(last),
        ..Opened::default()
    };
    let pair = visit.pair;
    // The pair names nobody but the last id.
    all.retain(|entry| entry.subject.id != pair);
    all.push(pen.entry(SubjectKind::Pair, pair, &Body::Opened(owned)));
    let (of_pair, job) = (
        Opened {
            pair: Some(pair),
            ..Opened::default()
        },
        pen.subject(),
    );
    all.push(pen.entry(SubjectKind::Job, job, &Body::Opened(of_pair)));
    let all = unsent(&all);
    assert_eq!(ids(&collected(visit.customer, &all).entries), ids(&all));
}

#[test]
fn goods_sold_without_a_pair_are_listed_with_number_price_tax_and_day() {
    let mut pen = Pen::new(1);
    let (ada, ben) = (
        visit(&mut pen, "Ada Example", None),
        visit(&mut pen, "Ben Example", None),
    );
    let ticket = pen.subject();
    let sold = |what: &str, count| {
        Body::Sold(Sold {
            what: what.to_owned(),
            count,
            price_minor: Minor(900),
        })
    };
    let opened = Opened {
        customer: Some(ada.customer),
        ..Opened::default()
    };
    let tax = Detail {
        field: field::TAX.to_owned(),
        value: (-81).into(),
    };
    let bodies = [
        Body::Opened(opened),
        Body::Detail(tax),
        sold("Laces <90>", 2),
        sold("Polish", 1),
    ];
    let mut sale = bodies
        .map(|body| pen.entry(SubjectKind::Ticket, ticket, &body))
        .to_vec();
    let back = Retracted { entry: sale[3].id };
    sale.push(pen.entry(SubjectKind::Ticket, ticket, &Body::Retracted(back)));
    let all = unsent(&[ada.entries, ben.entries, sale].concat());

    let of_ada = plain_page(&collected(ada.customer, &all));
    // 8.1 % is added to 9.00.
    let [price, tax] = [973, 73].map(|minor| money(&ShopState::default(), Minor(minor)));
    let line = format!("<li>2 × Laces &lt;90&gt;: {price}, of which tax {tax}, 14 November 2023, 23:13</li>");
    assert!(of_ada.contains(&line), "{line}\n{of_ada}");
    assert_eq!(
        of_ada.matches("of which tax").count(),
        1,
        "what was taken back is not sold"
    );
    assert!(!plain_page(&collected(ben.customer, &all)).contains("Laces"));
}
