use super::*;
use crate::commands::scene;
use serde_json::Value;
use serde_json::json;
use shared::log::body::field;
use shared::log::fold::AgreedLine;
use shared::log::{MadeAt, UnixMs};
use uuid::Uuid;

fn id(n: u128) -> EntryId {
    EntryId(Uuid::from_u128(n))
}

fn item<T>(n: u128, body: T) -> Item<T> {
    let at = MadeAt {
        utc: UnixMs(0),
        offset_min: 0,
    };
    Item {
        entry: id(n),
        at,
        person: None,
        body,
    }
}

fn crushed(pays: Pays) -> PartFinding {
    PartFinding {
        part: Component::Counter,
        condition: Condition::Crushed,
        side: Side::Both,
        decision: Decision::Replace,
        pays: Some(pays),
    }
}

fn allowing(value: Value) -> TicketState {
    scene::ticket(&[(field::IF_HIDDEN, value)])
}

fn paying(damage: u128, price: i64) -> JobState {
    let line = Agreed {
        damage: Some(id(damage)),
        ..Agreed::at("counter_rebuild", Minor(price))
    };
    JobState {
        agreed: vec![AgreedLine::of(item(damage + 100, line))],
        ..JobState::default()
    }
}

#[test]
fn an_extra_within_the_allowance_is_agreed_and_any_other_is_asked_about() {
    let found = crushed(Pays::Customer);
    let operation = remedy(&found, None);
    let follows = |price, allowance| follow(&found, operation, id(1), price, allowance);
    let FollowUp::Agreed(line) = follows(Some(Minor(4500)), Minor(4500)) else {
        panic!("the amount itself is allowed");
    };
    assert_eq!((line.price_minor, line.damage), (Minor(4500), Some(id(1))));
    assert_eq!(follows(Some(Minor(4501)), Minor(4500)), FollowUp::Ask);
    assert_eq!(follows(Some(Minor(1)), Minor::ZERO), FollowUp::Ask);
    assert_eq!(
        follows(None, Minor(100_000)),
        FollowUp::Ask,
        "nobody knows what it costs"
    );
}

/// By hand: of 50.00 allowed, 45.00 were spent on one pair of the ticket and 3.00 on another; 2.00 are left.
#[test]
fn what_the_customer_allowed_is_spent_once_on_the_whole_ticket() {
    let ticket = allowing(json!(5000));
    let (one, other) = (paying(1, 4500), paying(2, 300));
    assert_eq!(allowance(&ticket, []), Minor(5000));
    assert_eq!(allowance(&ticket, [&one]), Minor(500));
    assert_eq!(allowance(&ticket, [&one, &other]), Minor(200));
}

#[test]
fn what_the_customer_was_asked_about_does_not_come_off_the_allowance() {
    let asked = Question {
        text: String::new(),
        choices: Vec::new(),
        photo: None,
        damage: Some(id(1)),
    };
    let job = JobState {
        questions: vec![item(3, asked)],
        ..paying(1, 4500)
    };
    assert_eq!(allowance(&allowing(json!(5000)), [&job]), Minor(5000));
}

#[test]
fn without_leave_nothing_is_allowed() {
    for said in [json!("ask"), json!("nothing"), Value::Null] {
        assert_eq!(allowance(&allowing(said), []), Minor::ZERO);
    }
    assert_eq!(allowance(&TicketState::default(), []), Minor::ZERO);
}

#[test]
fn work_at_no_charge_carries_why_and_its_worth() {
    let found = crushed(Pays::ShopNeeded);
    let operation = remedy(&found, None);
    let followed = follow(&found, operation, id(1), Some(Minor(4500)), Minor::ZERO);
    let FollowUp::Agreed(line) = followed else {
        panic!("{followed:?}");
    };
    let gift = line.gift.expect("why");
    assert_eq!(
        (line.price_minor, gift.worth_minor, gift.why),
        (Minor::ZERO, Minor(4500), GiftWhy::Needed)
    );
}

/// A seam of a bag and one of a shoe are two operations, and what is to be replaced is not only held again.
#[test]
fn the_remedy_follows_the_decision_and_the_goods() {
    let strap = |decision| PartFinding {
        part: Component::Strap,
        condition: Condition::SeamOpen,
        decision,
        ..crushed(Pays::Customer)
    };
    for (decision, goods, operation) in [
        (Decision::Mend, Goods::Bag, "restitch_seam"),
        (Decision::Mend, Goods::Sandal, "restitch_upper"),
        (Decision::Replace, Goods::Bag, "strap_replacement"),
        (Decision::Replace, Goods::Sandal, "strap_replacement"),
        (Decision::Replace, Goods::Belt, "new_belt"),
    ] {
        assert_eq!(remedy(&strap(decision), Some(&goods)), Some(operation), "{goods}");
    }
    let damage = Damage {
        part: "strap".to_owned(),
        condition: "seam_open".to_owned(),
        side: Side::Both,
        seen: Seen::Inside,
        decision: None,
        pays: None,
        note: String::new(),
    };
    let offered: Vec<_> = ways(&damage, Some(&Goods::Bag), |_| Minor(4500))
        .into_iter()
        .filter_map(|way| way.operation)
        .collect();
    assert_eq!(offered, ["restitch_seam", "strap_replacement"]);
}

#[test]
fn a_part_kept_for_use_is_listed_until_it_is_back() {
    let job = SubjectId(Uuid::from_u128(7));
    let kept = PartFinding {
        decision: Decision::Keep,
        pays: None,
        ..crushed(Pays::Customer)
    };
    let bodies: Vec<_> = found(job, &kept).into_iter().map(|draft| draft.body).collect();
    assert!(
        matches!(bodies[..], [Body::Damage(_), Body::TakenOut(_)]),
        "{bodies:?}"
    );
    assert_eq!(found(job, &crushed(Pays::Customer)).len(), 1, "a new one goes in");
}

#[test]
fn yes_adds_the_work_and_no_does_not() {
    let job = SubjectId(Uuid::from_u128(7));
    let damage = Damage {
        part: "counter".to_owned(),
        condition: "crushed".to_owned(),
        side: Side::Right,
        seen: Seen::Inside,
        decision: None,
        pays: None,
        note: String::new(),
    };
    let question = item(
        5,
        Question {
            text: "The counter is crushed.".to_owned(),
            choices: ways(&damage, None, |_| Minor(4500)),
            photo: None,
            damage: Some(id(1)),
        },
    );
    assert!(!question.body.choices.is_empty());
    let state = JobState {
        damage: vec![item(1, damage)],
        ..JobState::default()
    };
    let job = (job, &state);
    let yes = answer(job, &question, Outcome::Yes, Some(0), "");
    let line = yes.iter().find_map(|draft| match &draft.body {
        Body::Agreed(line) => Some(line),
        _ => None,
    });
    let line = line.expect("agreed work");
    assert_eq!((line.price_minor, line.damage), (Minor(4500), Some(id(1))));
    assert_eq!(line.side, Side::Right, "on the shoe where the damage is");
    assert_eq!(answer(job, &question, Outcome::No, None, "").len(), 1);
    assert_eq!(
        answer(job, &question, Outcome::CallBack, None, " at six ").len(),
        1
    );
}

#[test]
fn a_part_is_taken_off_and_kept_without_being_called_damaged() {
    let job = SubjectId(Uuid::from_u128(7));
    let draft = take_off(job, &Component::HeelBase, Side::Left, KeptFor::Customer);
    let Body::TakenOut(out) = draft.body else {
        panic!("a part that is out");
    };
    assert_eq!(
        (out.part.as_str(), &out.side, &out.kept_for),
        ("heel_base", &Side::Left, &Some(KeptFor::Customer))
    );
    let state = |kept_for| {
        let out = TakenOut {
            kept_for,
            ..out.clone()
        };
        JobState {
            taken_out: vec![item(1, out)],
            ..JobState::default()
        }
    };
    let (reused, given) = (state(Some(KeptFor::Reuse)), state(Some(KeptFor::Customer)));
    assert_eq!(bench::parts_out(&reused).count(), 1, "it holds the pair");
    assert_eq!(bench::parts_for_customer(&reused).count(), 0);
    assert_eq!(bench::parts_out(&given).count(), 0, "it does not go back in");
    assert_eq!(bench::parts_for_customer(&given).count(), 1);
}

#[test]
fn a_finding_is_named_later_and_the_rest_of_it_stays() {
    let job = SubjectId(Uuid::from_u128(7));
    let unknown = Damage {
        part: "metal strip".to_owned(),
        condition: "snapped".to_owned(),
        side: Side::Left,
        seen: Seen::Inside,
        decision: Some(Decision::Replace),
        pays: Some(Pays::Customer),
        note: "Under the filler".to_owned(),
    };
    assert!(can_be_named(&unknown));
    let unknown = item(4, unknown);
    let draft = name_finding(job, &unknown, &Component::Shank, &Condition::Broken).expect("a new name");
    assert_eq!(draft.over, [id(4)]);
    let Body::Damage(named) = draft.body else {
        panic!("a finding");
    };
    assert_eq!(
        (named.part.as_str(), named.condition.as_str()),
        ("shank", "broken")
    );
    assert!(!can_be_named(&named));
    let rest = |damage: &Damage| (damage.decision.clone(), damage.pays.clone(), damage.note.clone());
    assert_eq!(rest(&named), rest(&unknown.body));
    let same = name_finding(job, &unknown, &"metal strip".into(), &"snapped".into());
    assert_eq!(same, None);
}

/// What is wrong is said of the part where its words describe one, and beside it where they do not.
#[test]
fn a_finding_is_told_as_a_sentence() {
    let told = |part: &str, condition: &str, side: Side| {
        sentence(&Damage {
            part: part.to_owned(),
            condition: condition.to_owned(),
            side,
            seen: Seen::Inside,
            decision: None,
            pays: None,
            note: String::new(),
        })
    };
    assert_eq!(told("shank", "broken", Side::Left), "The left shank is broken.");
    assert_eq!(
        told("counter", "crushed", Side::Both),
        "The stiffener is crushed."
    );
    assert_eq!(
        told("lining", "mould", Side::Right),
        "Found at the right lining: mould."
    );
    assert_eq!(told("bell", "no ring", Side::Both), "Found at the bell: no ring.");
}
