//! Opening a pair up: recording damage, the decision about it, and the customer's answer.

use shared::log::body::{
    Agreed, Answer, Body, Damage, Decision, GiftWhy, Outcome, Pays, Question, Seen, Side, TakenOut,
};
use shared::log::fold::{Item, JobState, TicketState, bench};
use shared::log::{EntryId, SubjectId};
use shared::price::minor::Minor;
use shared::trade::component::Component;
use shared::trade::condition::{Condition, remedies};
use shared::trade::{operations, usual_life};

use super::work::{agree, on_job};
use shared::log::Draft;

/// Damage of one part, as it is entered.
#[derive(Debug, Clone, PartialEq)]
pub struct PartFinding {
    /// The part.
    pub part: Component,
    /// The kind of damage.
    pub condition: Condition,
    /// Which shoe.
    pub side: Side,
    /// What is done about it.
    pub decision: Decision,
    /// Who pays, if work is done about it.
    pub pays: Option<Pays>,
}

/// What follows from damage that was found.
#[derive(Debug, Clone, PartialEq)]
pub enum FollowUp {
    /// Nothing more: the part stays, or no operation is known that repairs it.
    Nothing,
    /// An extra is agreed: at no charge, or within the amount that the customer allowed.
    Agreed(Agreed),
    /// The customer must be asked first.
    Ask,
}

/// Records damage. A part that was taken out to be used again is recorded as out until it is put back.
pub fn found(job: SubjectId, found: &PartFinding) -> Vec<Draft> {
    let damage = Damage {
        part: found.part.as_str().to_owned(),
        condition: found.condition.as_str().to_owned(),
        side: found.side.clone(),
        seen: Seen::Inside,
        decision: Some(found.decision.clone()),
        pays: found.pays.clone(),
        note: String::new(),
    };
    let mut drafts = vec![on_job(job, Body::Damage(damage))];
    if found.part.goes_back() && matches!(found.decision, Decision::Keep | Decision::Mend) {
        let out = TakenOut {
            part: found.part.as_str().to_owned(),
            side: found.side.clone(),
        };
        drafts.push(on_job(job, Body::TakenOut(out)));
    }
    drafts
}

/// The operation that usually repairs it; `None` if the trade knows none.
pub fn remedy(found: &PartFinding) -> Option<&'static str> {
    remedies(&found.part, &found.condition).first().copied()
}

/// What follows from damage that was found. `damage` is its entry, `price` what its repair costs in this shop,
/// `allowance` what the customer pays without being asked (see [`allowance`]), both in minor units.
pub fn follow(found: &PartFinding, damage: EntryId, price: Option<Minor>, allowance: Minor) -> FollowUp {
    let made_good = matches!(found.decision, Decision::Mend | Decision::Replace);
    let (true, Some(pays)) = (made_good, &found.pays) else {
        return FollowUp::Nothing;
    };
    let why = match pays {
        Pays::ShopNeeded => Some(GiftWhy::Needed),
        Pays::ShopChoice => Some(GiftWhy::MyChoice),
        _ => None,
    };
    let Some(operation) = remedy(found) else {
        return if why.is_some() {
            FollowUp::Nothing
        } else {
            FollowUp::Ask
        };
    };
    let line = match (why, price) {
        (Some(why), price) => Agreed::given(operation, why, price.unwrap_or_default()),
        (None, Some(price)) if price <= allowance => Agreed::at(operation, price),
        (None, _) => return FollowUp::Ask,
    };
    FollowUp::Agreed(Agreed {
        side: found.side.clone(),
        damage: Some(damage),
        ..line
    })
}

/// How much is left of the amount that the customer of a ticket allowed for hidden damage, in minor units. The extras
/// of all `jobs` of the ticket are subtracted, except those about which the customer was asked, because they agreed to
/// each of these.
pub fn allowance<'a>(ticket: &TicketState, jobs: impl IntoIterator<Item = &'a JobState>) -> Minor {
    ticket.hidden_limit().unwrap_or_default() - jobs.into_iter().map(unasked_extras).sum()
}

/// The price of the extras for hidden damage on a job about which the customer was not asked, in minor units.
fn unasked_extras(job: &JobState) -> Minor {
    let lines = bench::agreed(job).map(|line| &line.body);
    let extras = lines.filter(|line| line.damage.is_some_and(|damage| !is_asked(job, damage)));
    extras.map(|line| line.price_minor).sum()
}

/// A question to the customer.
pub fn ask(job: SubjectId, question: Question) -> Draft {
    on_job(job, Body::Question(question))
}

/// The customer's answer to a question. A choice that they agreed to becomes agreed work in the same save, on the shoe
/// with the damage.
pub fn answer(
    (job, state): (SubjectId, &JobState),
    question: &Item<Question>,
    outcome: Outcome,
    choice: Option<usize>,
    call_at: &str,
) -> Vec<Draft> {
    let chosen = choice.and_then(|n| question.body.choices.get(n));
    let damage = state
        .damage
        .iter()
        .find(|item| Some(item.entry) == question.body.damage);
    let chosen = chosen.filter(|_| outcome == Outcome::Yes);
    let work = chosen.and_then(|chosen| Some((chosen, chosen.operation.as_ref()?)));
    let line = work.map(|(chosen, operation)| Agreed {
        damage: question.body.damage,
        side: damage.map_or(Side::Both, |item| item.body.side.clone()),
        ..Agreed::at(operation, chosen.price_minor)
    });
    let said = Answer {
        question: question.entry,
        outcome,
        choice,
        call_at: call_at.trim().to_owned(),
    };
    let mut drafts = vec![on_job(job, Body::Answer(said))];
    drafts.extend(line.map(|line| agree(job, line)));
    drafts
}

/// Damage about which the customer must be asked: they would pay, and nothing has been agreed or asked about it.
pub fn unasked(job: &JobState) -> impl Iterator<Item = &Item<Damage>> {
    job.damage.iter().filter(|item| {
        let agreed = bench::agreed(job).any(|line| line.body.damage == Some(item.entry));
        item.body.pays == Some(Pays::Customer) && !agreed && !is_asked(job, item.entry)
    })
}

/// Whether the customer has been asked about this damage.
pub fn is_asked(job: &JobState, damage: EntryId) -> bool {
    job.questions.iter().any(|item| item.body.damage == Some(damage))
}

/// Damage as a sentence for the customer.
pub fn sentence(damage: &Damage) -> String {
    let part = Component::from(damage.part.as_str()).words().to_lowercase();
    let condition = Condition::from(damage.condition.as_str()).words().to_lowercase();
    match damage.side {
        Side::Left => words::commands::left_part_turned_out_to_be(&part, &condition),
        Side::Right => words::commands::right_part_turned_out_to_be(&part, &condition),
        _ => words::commands::part_turned_out_to_be(&part, &condition),
    }
}

/// The choices to offer a customer for damage: its remedies at the shop's prices, at most two.
pub fn ways(damage: &Damage, price: impl Fn(&str) -> Minor) -> Vec<shared::log::body::Choice> {
    let (part, condition) = (
        Component::from(damage.part.as_str()),
        Condition::from(damage.condition.as_str()),
    );
    let known = remedies(&part, &condition).iter().take(2);
    known
        .map(|code| shared::log::body::Choice {
            say: operations::name(code).to_owned(),
            operation: Some((*code).into()),
            price_minor: price(code),
            life_months: usual_life(code),
        })
        .collect()
}

#[cfg(test)]
mod tests {
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
            agreed: vec![AgreedLine {
                versions: vec![item(damage + 100, line)],
            }],
            ..JobState::default()
        }
    }

    #[test]
    fn an_extra_within_the_allowance_is_agreed_and_any_other_is_asked_about() {
        let follows = |price, allowance| follow(&crushed(Pays::Customer), id(1), price, allowance);
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
        let followed = follow(&crushed(Pays::ShopNeeded), id(1), Some(Minor(4500)), Minor::ZERO);
        let FollowUp::Agreed(line) = followed else {
            panic!("{followed:?}");
        };
        let gift = line.gift.expect("why");
        assert_eq!(
            (line.price_minor, gift.worth_minor, gift.why),
            (Minor::ZERO, Minor(4500), GiftWhy::Needed)
        );
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
                choices: ways(&damage, |_| Minor(4500)),
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
}
