use super::*;
use crate::commands::scene;
use serde_json::json;
use shared::log::body::{Agreed, Side};
use shared::log::fold::{JobState, TicketState};
use shared::price::bill::Bill;
use shared::price::currency::Currency;
use shared::trade::{Component, Condition};
use uuid::Uuid;

fn line(operation: &str, price: &str) -> LineIn {
    LineIn {
        price: price.into(),
        ..LineIn::usual(operation)
    }
}

fn pair(lines: &[(&str, &str)]) -> PairIn {
    PairIn {
        lines: lines
            .iter()
            .map(|(operation, price)| line(operation, price))
            .collect(),
        ..PairIn::default()
    }
}

fn form(pairs: Vec<PairIn>) -> DropOff {
    DropOff {
        pairs,
        day: "2027-01-15".into(),
        ..DropOff::default()
    }
}

fn taken(form: &DropOff, tax: Option<i64>) -> Result<(TakenIn, Vec<Draft>), Missing> {
    let (mut ids, mut secrets) = (0, 0);
    let new_id = || {
        ids += 1;
        SubjectId(Uuid::from_u128(ids))
    };
    let secret = || {
        secrets += 1;
        format!("secret {secrets}")
    };
    take_in(form, (tax, Currency::default()), new_id, secret)
}

fn bodies<T: body::BodyKind>(drafts: &[Draft]) -> Vec<T> {
    drafts
        .iter()
        .filter_map(|draft| T::of(&draft.body).cloned())
        .collect()
}

fn said<'a>(drafts: &'a [Draft], wanted: &str) -> Vec<&'a Value> {
    let value = |draft: &'a Draft| match &draft.body {
        Body::Detail(detail) if detail.field == wanted => Some(&detail.value),
        _ => None,
    };
    drafts.iter().filter_map(value).collect()
}

#[test]
fn several_pairs_stand_on_one_ticket_of_one_customer() {
    let mut both = form(vec![
        pair(&[("half_sole", "38"), ("edge_trim_ink", "14.50")]),
        pair(&[("zip_replacement", "48")]),
    ]);
    both.name = " Ottoline Brack ".into();
    let (taken, drafts) = taken(&both, None).unwrap();
    assert_eq!((taken.pairs.len(), taken.jobs.len()), (2, 2));
    assert_eq!(said(&drafts, field::NAME), ["Ottoline Brack"]);
    assert_eq!(said(&drafts, field::DAY), ["2027-01-15"]);
    let opened: Vec<Opened> = bodies(&drafts);
    let of_jobs = opened.iter().filter(|one| one.ticket == Some(taken.ticket));
    let pairs: Vec<_> = of_jobs.map(|one| one.pair.unwrap()).collect();
    assert_eq!(pairs, taken.pairs);
    let owned = opened
        .iter()
        .filter(|one| one.customer == taken.customer && one.ticket.is_none());
    // The ticket and both pairs belong to the customer; the customer's own opening names no customer.
    assert_eq!(owned.filter(|one| one.customer.is_some()).count(), 3);
    let agreed: Vec<Agreed> = bodies(&drafts);
    assert_eq!(
        agreed.iter().map(|one| one.price_minor).collect::<Vec<_>>(),
        [3800, 1450, 4800].map(Minor)
    );
    let asked = said(&drafts, field::TAG);
    assert_eq!(
        asked,
        [&Value::Null, &Value::Null],
        "each takes the app's next number"
    );
}

#[test]
fn a_new_pair_gets_a_card_link_of_its_own_and_a_known_one_none() {
    let known = PairIn {
        known: Some(KnownPair {
            id: SubjectId(Uuid::from_u128(99)),
            title: "brown derby".into(),
            goods: "low_shoe".into(),
            made_of: MadeOf::default(),
            made_of_entries: MadeOfEntries::default(),
            construction: None,
        }),
        goods: "boot".into(),
        ..pair(&[("half_sole", "38")])
    };
    let (taken, drafts) = taken(
        &form(vec![
            pair(&[("stretch", "12")]),
            known,
            pair(&[("stretch", "12")]),
        ]),
        None,
    )
    .unwrap();
    let links: Vec<CardLink> = bodies(&drafts);
    let secrets: Vec<_> = links.iter().map(|link| link.secret.as_str()).collect();
    assert_eq!(secrets, ["secret 1", "secret 2"]);
    assert_eq!(taken.pairs[1], SubjectId(Uuid::from_u128(99)));
    assert_eq!(taken.customer, None);
    assert!(
        said(&drafts, field::GOODS).is_empty(),
        "what is recorded of a known pair stands"
    );
}

#[test]
fn nothing_said_writes_nothing() {
    let mut form = form(vec![pair(&[("stretch", "12")])]);
    form.phone = "  ".into();
    let (taken, drafts) = taken(&form, None).unwrap();
    assert_eq!(taken.customer, None);
    let fields: Vec<_> = bodies::<Detail>(&drafts)
        .into_iter()
        .map(|one| one.field)
        .collect();
    assert_eq!(fields, [field::DAY, field::TAG]);
    assert_eq!(bodies::<Payment>(&drafts), []);
}

#[test]
fn everything_said_is_written_where_it_belongs() {
    let belt = PairIn {
        goods: "belt".into(),
        came_with: vec!["bag".into()],
        came_with_else: "a buckle in paper".into(),
        construction: Some("cemented".into()),
        damage: vec![SeenDamage {
            part: Component::Strap,
            condition: Condition::Cracked,
            side: Side::Left,
        }],
        tag: " 417 ".into(),
        ..pair(&[("shorten_belt", "14")])
    };
    let said_all = DropOff {
        rush: true,
        while_waiting: true,
        if_hidden: Some(IfHidden::UpTo),
        up_to: "20".into(),
        ..form(vec![belt])
    };
    let (_, drafts) = taken(&said_all, Some(190)).unwrap();
    assert_eq!(said(&drafts, field::TAG), ["417"]);
    assert_eq!(said(&drafts, field::RUSH), [true]);
    assert_eq!(said(&drafts, field::WHILE_WAITING), [true]);
    assert_eq!(said(&drafts, field::IF_HIDDEN), [2000]);
    assert_eq!(said(&drafts, field::TAX), [190]);
    assert_eq!(said(&drafts, field::CONSTRUCTION_GUESSED), ["cemented"]);
    assert_eq!(
        said(&drafts, field::CAME_WITH),
        [&serde_json::json!(["bag", "a buckle in paper"])]
    );
    let damage: Vec<Damage> = bodies(&drafts);
    assert_eq!(damage.len(), 1);
    assert_eq!(damage[0].seen, body::Seen::Counter);
    assert_eq!(damage[0].side, Side::Left);
    assert_eq!(damage[0].decision, None, "accepted as it is");
}

/// By hand: 38.00 + 14.50 + 48.00 = 100.50. With 19 % in it, 100.50 · 19 / 119 = 16.046… With 8.1 % on top, 8.1405.
#[test]
fn the_total_is_what_is_paid() {
    let both = form(vec![
        pair(&[("half_sole", "38"), ("edge_trim_ink", "14,50")]),
        pair(&[("zip_replacement", "48.00"), ("stretch", "twelve")]),
    ]);
    assert_eq!(
        both.sum(Currency::default()),
        Minor(10_050),
        "what cannot be read counts nothing yet"
    );
    let due = both.due(Some(190), Currency::default());
    assert_eq!((due.minor, due.tax), (Minor(10_050), Some(Minor(1_605))));
    let due = both.due(Some(-81), Currency::default());
    assert_eq!((due.minor, due.tax), (Minor(10_864), Some(Minor(814))));

    let paid = |paying, tax| {
        let mut form = form(vec![pair(&[("half_sole", "100.50")])]);
        form.paying = paying;
        form.deposit = "20".into();
        let (_, drafts) = taken(&form, tax).unwrap();
        bodies::<Payment>(&drafts)
    };
    let payment = |minor, what| vec![Payment { minor, what }];
    assert_eq!(
        paid(Paying::Deposit, Some(-81)),
        payment(Minor(2_000), Paid::Deposit)
    );
    assert_eq!(
        paid(Paying::All, Some(-81)),
        payment(Minor(10_864), Paid::Balance)
    );
    assert_eq!(
        paid(Paying::All, Some(190)),
        payment(Minor(10_050), Paid::Balance)
    );
    assert_eq!(paid(Paying::Later, None), []);
}

/// By hand: 8.1 % on 65.00 + 3.05 = 68.05 is 5.512…; of 73.56, 20.00 are paid.
#[test]
fn the_total_at_the_counter_is_the_bill_of_what_is_written() {
    let mut form = form(vec![pair(&[("half_sole", "65")]), pair(&[("new_hole", "3.05")])]);
    form.paying = Paying::Deposit;
    form.deposit = "20".into();
    let (taken, drafts) = taken(&form, Some(-81)).unwrap();
    let job = |job: &SubjectId| {
        let its: Vec<Draft> = drafts
            .iter()
            .filter(|draft| draft.subject.id == *job)
            .cloned()
            .collect();
        scene::job(&bodies::<Agreed>(&its))
    };
    let jobs: Vec<JobState> = taken.jobs.iter().map(job).collect();
    let payments = bodies::<Payment>(&drafts).into_iter();
    let ticket = TicketState {
        payments: payments.map(|payment| scene::said(1, 0, payment)).collect(),
        ..scene::ticket(&[(field::TAX, json!(said(&drafts, field::TAX)[0]))])
    };
    let bill = Bill::of(&ticket, &jobs);
    assert_eq!(bill.total, form.due(Some(-81), Currency::default()));
    assert_eq!((bill.total.minor, bill.left()), (Minor(7_356), Minor(5_356)));
}

#[test]
fn what_is_missing_names_the_pair_and_the_field() {
    let lacks = |form: &DropOff| {
        let missing = taken(form, None).unwrap_err();
        (missing.to_string(), missing.element())
    };
    let (why, element) = lacks(&form(vec![pair(&[("half_sole", "38")]), PairIn::default()]));
    assert!(why.starts_with("Pair 2: the work is missing."), "{why}");
    assert_eq!(element, work_id(1));

    let (why, element) = lacks(&form(vec![pair(&[("half_sole", "38"), ("stretch", "free")])]));
    assert!(
        why.starts_with("Pair 1: Stretch: \u{201c}free\u{201d} is not a price"),
        "{why}"
    );
    assert_eq!(element, price_id(0, 1));
    let unread = form(vec![pair(&[("half_sole", "38"), ("stretch", "free")])]);
    assert_eq!(unread.unread(Currency::default()), 1);
    let (why, _) = lacks(&form(vec![pair(&[("half_sole", " ")])]));
    assert!(
        why.starts_with("Pair 1: Half soles: the price is missing"),
        "{why}"
    );

    let mut no_day = form(vec![pair(&[("half_sole", "38")])]);
    no_day.day.clear();
    assert_eq!(
        lacks(&no_day),
        (words::commands::day_is_missing().to_owned(), DAY.to_owned())
    );

    let mut vague = form(vec![pair(&[("half_sole", "38")])]);
    vague.if_hidden = Some(IfHidden::UpTo);
    assert_eq!(lacks(&vague).1, UP_TO);
    vague.if_hidden = Some(IfHidden::Ask);
    vague.paying = Paying::Deposit;
    assert_eq!(lacks(&vague).1, DEPOSIT);
}

#[test]
fn a_line_is_agreed_with_all_that_was_said_of_it() {
    let mut work = pair(&[
        ("top_piece_replacement", "12"),
        ("zip_replacement", "96"),
        ("half_sole", "35.19"),
    ]);
    work.lines[0].side = Side::Left;
    work.lines[0].variant = "leather".into();
    work.lines[1].count = 2;
    work.lines[2].package = "half_soles_and_heels".into();
    let (_, drafts) = taken(&form(vec![work]), None).unwrap();
    let agreed: Vec<Agreed> = bodies(&drafts);
    let [heel, zips, sole] = agreed.as_slice() else {
        panic!("{agreed:?}");
    };
    assert_eq!(
        (&heel.side, heel.variant(), heel.count),
        (&Side::Left, Some("leather"), None)
    );
    assert_eq!((zips.pieces(), zips.price_minor), (2, Minor(9_600)));
    assert_eq!(sole.package(), Some("half_soles_and_heels"));
    assert_eq!(
        (sole.variant.as_deref(), heel.package.as_deref()),
        (None, None),
        "nothing said"
    );
}

#[test]
fn what_a_pair_is_made_of_is_kept_with_the_pair() {
    let made = |materials: &[&str], lining: &[&str]| MadeOf {
        materials: materials.iter().map(|code| (*code).to_owned()).collect(),
        lining: lining.iter().map(|code| (*code).to_owned()).collect(),
    };
    let new = PairIn {
        made_of: made(&["suede", "rubber_sole"], &[]),
        ..pair(&[("half_sole", "38")])
    };
    let before = scene::pair(&[(field::MATERIALS, json!(["suede"]))]);
    let id = SubjectId(Uuid::from_u128(99));
    let known = |made_of| PairIn {
        known: Some(KnownPair {
            id,
            title: "brown derby".into(),
            goods: "low_shoe".into(),
            made_of: MadeOf::of(&before),
            made_of_entries: MadeOfEntries::of(&before),
            construction: None,
        }),
        made_of,
        ..pair(&[("half_sole", "38")])
    };
    let (first, drafts) = taken(&form(vec![new]), None).unwrap();
    assert_eq!(
        said(&drafts, field::MATERIALS),
        [&json!(["suede", "rubber_sole"])]
    );
    assert!(said(&drafts, field::LINING).is_empty(), "nobody said");
    let of_pair = drafts
        .iter()
        .find(|draft| matches!(&draft.body, Body::Detail(one) if one.field == field::MATERIALS));
    assert_eq!(of_pair.map(|draft| draft.subject.id), Some(first.pairs[0]));

    let (_, drafts) = taken(&form(vec![known(MadeOf::of(&before))]), None).unwrap();
    assert!(said(&drafts, field::MATERIALS).is_empty(), "as it was");
    let (_, drafts) = taken(&form(vec![known(made(&["smooth_leather"], &["textile"]))]), None).unwrap();
    assert_eq!(said(&drafts, field::MATERIALS), [&json!(["smooth_leather"])]);
    assert_eq!(said(&drafts, field::LINING), [&json!(["textile"])]);
    let corrects = |name: &str| {
        let of_field = |draft: &&Draft| matches!(&draft.body, Body::Detail(one) if one.field == name);
        drafts
            .iter()
            .find(of_field)
            .map(|draft| (draft.subject.id, draft.over.clone()))
    };
    assert_eq!(
        corrects(field::MATERIALS),
        Some((id, before.details.over(field::MATERIALS)))
    );
    assert_eq!(corrects(field::LINING), Some((id, Vec::new())));
}

#[test]
fn a_half_finished_one_comes_back_as_it_was_left() {
    assert!(DropOff::blank().is_blank());
    let mut half = form(vec![pair(&[("half_sole", "3")]), PairIn::default()]);
    half.pairs[1].look = "walking boot".into();
    assert_eq!(half.title(), "2 pairs, walking boot");
    half.name = "Ottoline Brack".into();
    half.paying = Paying::Deposit;
    half.if_hidden = Some(IfHidden::UpTo);
    assert!(!half.is_blank());
    assert_eq!(half.title(), "2 pairs, Ottoline Brack");
    let text = serde_json::to_string(&half).unwrap();
    assert_eq!(serde_json::from_str::<DropOff>(&text).unwrap(), half);
    assert_eq!(
        serde_json::from_str::<DropOff>("{\"day\":\"2027-01-15\"}")
            .unwrap()
            .day,
        "2027-01-15",
        "an older app's is read"
    );
    let older = r#"{"pairs": [{"known": {"id": "00000000-0000-0000-0000-000000000063", "title": "derby", "goods": ""},
        "lines": [{"operation": "half_sole", "side": "both", "price": "38", "by_hand": false}]}]}"#;
    let older: DropOff = serde_json::from_str(older).unwrap();
    assert_eq!(older.pairs[0].lines, [line("half_sole", "38")]);
}
