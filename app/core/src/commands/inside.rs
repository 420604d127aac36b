//! Opening a pair up: recording damage, the decision about it, and the customer's answer.

use shared::log::body::{
    Agreed, Answer, Body, Damage, Decision, GiftWhy, KeptFor, Outcome, Pays, Question, Seen, Side, TakenOut,
};
use shared::log::fold::{Item, JobState, TicketState, bench};
use shared::log::{EntryId, SubjectId};
use shared::price::minor::Minor;
use shared::trade::component::Component;
use shared::trade::condition::{Condition, remedies_on};
use shared::trade::{Goods, operation, operations, usual_life};

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
        drafts.push(take_off(job, &found.part, found.side.clone(), KeptFor::Reuse));
    }
    drafts
}

/// Records that a part was taken off without being damaged, and what it is kept for.
pub fn take_off(job: SubjectId, part: &Component, side: Side, kept_for: KeptFor) -> Draft {
    let out = TakenOut {
        part: part.as_str().to_owned(),
        side,
        kept_for: Some(kept_for),
    };
    on_job(job, Body::TakenOut(out))
}

/// Whether a finding has a part or a condition that is not in the trade's list, and can still be named.
pub fn can_be_named(damage: &Damage) -> bool {
    let part = Component::from(damage.part.as_str());
    let condition = Condition::from(damage.condition.as_str());
    matches!(part, Component::Other(_)) || matches!(condition, Condition::Other(_))
}

/// Names the part and the condition of a finding; what else was said about it stays. `None` if nothing would change.
pub fn name_finding(
    job: SubjectId,
    finding: &Item<Damage>,
    part: &Component,
    condition: &Condition,
) -> Option<Draft> {
    let named = Damage {
        part: part.as_str().to_owned(),
        condition: condition.as_str().to_owned(),
        ..finding.body.clone()
    };
    (named != finding.body).then(|| on_job(job, Body::Damage(named)).over(vec![finding.entry]))
}

/// The operation that usually does what was decided about it, on these goods: for a part that is to be replaced the one
/// that puts a new one on. `None` if the trade knows none.
pub fn remedy(found: &PartFinding, goods: Option<&Goods>) -> Option<&'static str> {
    let known: Vec<&str> = remedies_on(&found.part, &found.condition, goods).collect();
    let puts_on = |code: &&&str| {
        let fits = operation(code).map_or(&[][..], |known| known.puts_on);
        fits.iter().any(|fit| fit.part == found.part)
    };
    let replaced = known
        .iter()
        .find(puts_on)
        .filter(|_| found.decision == Decision::Replace);
    replaced.or(known.first()).copied()
}

/// What follows from damage that was found. `operation` is its [`remedy`], `damage` its entry, `price` what the remedy
/// costs in this shop, `allowance` what the customer pays without being asked (see [`allowance`]), both in minor units.
pub fn follow(
    found: &PartFinding,
    operation: Option<&'static str>,
    damage: EntryId,
    price: Option<Minor>,
    allowance: Minor,
) -> FollowUp {
    let made_good = matches!(found.decision, Decision::Mend | Decision::Replace);
    let (true, Some(pays)) = (made_good, &found.pays) else {
        return FollowUp::Nothing;
    };
    let why = match pays {
        Pays::ShopNeeded => Some(GiftWhy::Needed),
        Pays::ShopChoice => Some(GiftWhy::MyChoice),
        _ => None,
    };
    let Some(operation) = operation else {
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
    let kind = Condition::from(damage.condition.as_str());
    let condition = kind.words().to_lowercase();
    match (&damage.side, kind.describes_the_part()) {
        (Side::Left, true) => words::commands::left_part_is(&part, &condition),
        (Side::Right, true) => words::commands::right_part_is(&part, &condition),
        (_, true) => words::commands::part_is(&part, &condition),
        (Side::Left, false) => words::commands::found_at_left_part(&part, &condition),
        (Side::Right, false) => words::commands::found_at_right_part(&part, &condition),
        (_, false) => words::commands::found_at_part(&part, &condition),
    }
}

/// The choices to offer a customer for damage: its remedies on these goods at the shop's prices, at most two.
pub fn ways(
    damage: &Damage,
    goods: Option<&Goods>,
    price: impl Fn(&str) -> Minor,
) -> Vec<shared::log::body::Choice> {
    let (part, condition) = (
        Component::from(damage.part.as_str()),
        Condition::from(damage.condition.as_str()),
    );
    let known = remedies_on(&part, &condition, goods).take(2);
    known
        .map(|code| shared::log::body::Choice {
            say: operations::name(code).to_owned(),
            operation: Some(code.into()),
            price_minor: price(code),
            life_months: usual_life(code),
        })
        .collect()
}

#[cfg(test)]
mod tests;
