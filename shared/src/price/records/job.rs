//! What was agreed, found, done and used on a job.

use std::collections::BTreeSet;

use serde::{Deserialize, Serialize};

use super::At;
use super::left_out::{both, is_both, is_one, not, one};
use super::thickness::{Thickness, thickness};
use crate::log::body::{
    Agreed, Cause, Damage, Decision, Gift, GiftWhy, OperationCode, Pays, Redo, Seen, Side, Step, Used,
};
use crate::log::entry::{EntryId, PersonId, SubjectId};
use crate::log::fold::{Item, JobState, PairState, TicketState, bench};
use crate::price::bill::plausible;
use crate::price::minor::Minor;
use crate::trade::amount::LineSize;
use crate::trade::exposes::SEEN_WITH_CONSTRUCTION;
use crate::trade::{Component, Condition, Construction, Goods, Material, exposes};

/// A line of agreed work that was not skipped.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct LineFact {
    /// The operation.
    #[serde(rename = "o")]
    pub operation: OperationCode,
    /// Which shoe.
    #[serde(rename = "s", default = "both", skip_serializing_if = "is_both")]
    pub side: Side,
    /// The agreed price, in minor units; 0 for no charge. For what is charged see [`JobFacts::charges`].
    #[serde(rename = "p", default, skip_serializing_if = "Minor::is_zero")]
    pub price_minor: Minor,
    /// Why it is at no charge, and what it is worth.
    #[serde(rename = "g", default, skip_serializing_if = "Option::is_none")]
    pub gift: Option<Gift>,
    /// The damage it repairs: an index into [`JobFacts::found`].
    #[serde(rename = "d", default, skip_serializing_if = "Option::is_none")]
    pub damage: Option<u32>,
    /// Which variant of the operation.
    #[serde(rename = "v", default, skip_serializing_if = "Option::is_none")]
    pub variant: Option<String>,
    /// How many pieces; 1 for an operation that is not priced for each piece.
    #[serde(rename = "n", default = "one", skip_serializing_if = "is_one")]
    pub pieces: u32,
}

impl LineFact {
    /// How much of the operation's usual work it is, as a factor.
    pub fn amount(&self) -> f64 {
        let size = LineSize {
            operation: &self.operation,
            variant: self.variant.as_deref(),
            count: self.pieces,
            side: &self.side,
        };
        size.factor()
    }

    /// Why it is at no charge; `None` where it is paid for.
    pub fn given(&self) -> Option<&GiftWhy> {
        self.gift.as_ref().map(|gift| &gift.why)
    }
}

/// Damage found at the counter or inside.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct FoundDamage {
    /// The part.
    #[serde(rename = "p")]
    pub part: Component,
    /// The kind of damage.
    #[serde(rename = "c")]
    pub condition: Condition,
    /// Which shoe.
    #[serde(rename = "s", default = "both", skip_serializing_if = "is_both")]
    pub side: Side,
    /// Whether it was found inside, where it could not be seen before the pair was opened.
    #[serde(rename = "i", default, skip_serializing_if = "not")]
    pub inside: bool,
    /// What is done about it.
    #[serde(rename = "d", default, skip_serializing_if = "Option::is_none")]
    pub decision: Option<Decision>,
    /// Who pays for the repair.
    #[serde(rename = "w", default, skip_serializing_if = "Option::is_none")]
    pub pays: Option<Pays>,
    /// When it was seen.
    #[serde(rename = "a")]
    pub at: At,
}

/// One step of work.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct StepFact {
    /// The operation.
    #[serde(rename = "o")]
    pub operation: OperationCode,
    /// Which shoe.
    #[serde(rename = "s", default = "both", skip_serializing_if = "is_both")]
    pub side: Side,
    /// Minutes of attended work, if they were noted.
    #[serde(rename = "m", default, skip_serializing_if = "Option::is_none")]
    pub minutes: Option<u32>,
    /// The person: an index into [`JobFacts::people`].
    #[serde(rename = "p", default, skip_serializing_if = "Option::is_none")]
    pub person: Option<u32>,
    /// When.
    #[serde(rename = "a")]
    pub at: At,
    /// The material used, where it was stated.
    #[serde(rename = "u", default, skip_serializing_if = "Vec::is_empty")]
    pub used: Vec<Used>,
    /// Whether it had to be made again, so that its material is scrap.
    #[serde(rename = "r", default, skip_serializing_if = "not")]
    pub redone: bool,
    /// The scrap, in words.
    #[serde(rename = "x", default, skip_serializing_if = "String::is_empty")]
    pub scrap: String,
    /// How many pieces; 1 for an operation that is not priced for each piece.
    #[serde(rename = "n", default = "one", skip_serializing_if = "is_one")]
    pub pieces: u32,
    /// The cement, as in [`Step::cement`], or as named afterwards; `None` where it was not stated.
    #[serde(rename = "c", default, skip_serializing_if = "Option::is_none")]
    pub cement: Option<String>,
}

impl StepFact {
    /// How often it takes the usual amount of material that a pair or one piece takes: half of a pair's on one shoe.
    pub fn takes(&self) -> f64 {
        let shoes = if self.side == Side::Both { 1.0 } else { 0.5 };
        f64::from(self.pieces.max(1)) * shoes
    }
}

/// The earlier work that the job repeats because of a complaint.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct ComplaintFact {
    /// The earlier job.
    #[serde(rename = "j")]
    pub job: SubjectId,
    /// The operation it concerns.
    #[serde(rename = "o")]
    pub operation: OperationCode,
    /// The cause, as far as it is known.
    #[serde(rename = "c", default, skip_serializing_if = "Option::is_none")]
    pub cause: Option<Cause>,
}

/// What the books keep of a job.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct JobFacts {
    /// The job.
    #[serde(rename = "j")]
    pub job: SubjectId,
    /// The ticket it belongs to.
    #[serde(rename = "t", default, skip_serializing_if = "Option::is_none")]
    pub ticket: Option<SubjectId>,
    /// The kind of goods.
    #[serde(rename = "g")]
    pub goods: Goods,
    /// The construction as it was guessed when the price was agreed; `None` where it was not guessed.
    #[serde(rename = "c", default, skip_serializing_if = "Option::is_none")]
    pub guessed: Option<Construction>,
    /// The construction as it was found when the pair was opened.
    #[serde(rename = "k", default, skip_serializing_if = "Option::is_none")]
    pub opened_as: Option<Construction>,
    /// Of the materials of the pair, those of its soles.
    #[serde(rename = "e", default, skip_serializing_if = "Vec::is_empty")]
    pub soles: Vec<Material>,
    /// Agreed work that was not skipped.
    #[serde(rename = "l", default, skip_serializing_if = "Vec::is_empty")]
    pub lines: Vec<LineFact>,
    /// Damage.
    #[serde(rename = "f", default, skip_serializing_if = "Vec::is_empty")]
    pub found: Vec<FoundDamage>,
    /// The parts that were opened, each once.
    #[serde(rename = "q", default, skip_serializing_if = "Vec::is_empty")]
    pub parts: Vec<Component>,
    /// Every step, including those that were made again.
    #[serde(rename = "s", default, skip_serializing_if = "Vec::is_empty")]
    pub steps: Vec<StepFact>,
    /// The people who did the steps.
    #[serde(rename = "p", default, skip_serializing_if = "Vec::is_empty")]
    pub people: Vec<PersonId>,
    /// Measured thicknesses of parts.
    #[serde(rename = "m", default, skip_serializing_if = "Vec::is_empty")]
    pub thickness: Vec<Thickness>,
    /// The earlier work that it repeats because of a complaint.
    #[serde(rename = "x", default, skip_serializing_if = "Option::is_none")]
    pub complaint: Option<ComplaintFact>,
    /// The rate of tax agreed on its ticket, as in [`TAX`](crate::log::body::field::TAX).
    #[serde(rename = "r", default, skip_serializing_if = "Option::is_none")]
    pub tax: Option<i64>,
    /// When it was opened.
    #[serde(rename = "a", default, skip_serializing_if = "Option::is_none")]
    pub opened_at: Option<At>,
    /// When the final check was finished.
    #[serde(rename = "b", default, skip_serializing_if = "Option::is_none")]
    pub ready_at: Option<At>,
    /// When the pair left the shop.
    #[serde(rename = "h", default, skip_serializing_if = "Option::is_none")]
    pub handed_over_at: Option<At>,
    /// Whether the pair went back as it was or, while it is in the shop, whether the customer wants it back so.
    #[serde(rename = "u", default, skip_serializing_if = "not")]
    pub unrepaired: bool,
}

impl JobFacts {
    /// The facts from the folded state of a job, its ticket and its pair. Implausible prices and worths count as 0, see
    /// [`plausible`], and so do negative worths.
    pub fn of(job_id: SubjectId, job: &JobState, ticket: Option<&TicketState>, pair: &PairState) -> Self {
        // As when the price was agreed: goods that were not stated are priced as a shoe.
        let goods = pair.goods().unwrap_or(Goods::LowShoe);
        let opened_as = job.construction_opened();
        let people = people(job);
        let handed_over = job.handed_over.as_ref().map(|slot| &slot.current);
        Self {
            job: job_id,
            ticket: job.ticket(),
            guessed: job.construction_guessed(),
            soles: pair.materials().filter(Material::of_sole).collect(),
            lines: lines(job),
            found: job.damage.iter().map(found).collect(),
            parts: parts(job, &goods, opened_as.is_some()),
            steps: job.steps.iter().map(|item| step(item, job, &people)).collect(),
            people,
            thickness: job.measured.iter().filter_map(thickness).collect(),
            complaint: job.complaint.as_ref().map(|slot| ComplaintFact {
                job: slot.current.body.job,
                operation: slot.current.body.operation.clone(),
                cause: slot.current.body.cause.clone(),
            }),
            tax: ticket.and_then(TicketState::tax),
            opened_at: job.opened.as_ref().map(|slot| slot.current.at.into()),
            ready_at: job.checked.as_ref().map(|slot| slot.current.at.into()),
            handed_over_at: handed_over.map(|item| item.at.into()),
            unrepaired: bench::goes_back_unrepaired(job),
            goods,
            opened_as,
        }
    }

    /// Whether damage found inside had to be repaired at no charge, which a price has to carry.
    ///
    /// A line that repairs it decides; without one, the decision entered with the damage does.
    pub fn is_needed(&self, at: usize) -> bool {
        let Some(found) = self.found.get(at).filter(|found| found.inside) else {
            return false;
        };
        let index = u32::try_from(at).ok();
        let mut answers = self.lines.iter().filter(|line| line.damage == index);
        match answers.next() {
            Some(line) => line.given() == Some(&GiftWhy::Needed),
            None => found.pays == Some(Pays::ShopNeeded),
        }
    }

    /// The person who did a step.
    pub fn person(&self, step: &StepFact) -> Option<PersonId> {
        self.people.get(usize::try_from(step.person?).ok()?).copied()
    }

    /// The charge for each of its lines, in minor units; 0 where the pair goes back as it was.
    pub fn charges(&self) -> impl Iterator<Item = Minor> {
        let charge = |line: &LineFact| {
            if self.unrepaired {
                Minor::ZERO
            } else {
                line.price_minor
            }
        };
        self.lines.iter().map(charge)
    }

    /// The charge for the whole job, in minor units.
    pub fn price(&self) -> Minor {
        self.charges().sum()
    }
}

fn lines(job: &JobState) -> Vec<LineFact> {
    let place = |damage: EntryId| job.damage.iter().position(|item| item.entry == damage);
    let line = |line: &Agreed| LineFact {
        operation: line.operation.clone(),
        side: line.side.clone(),
        price_minor: plausible(line.price_minor),
        gift: line.gift.clone().map(|gift| Gift {
            worth_minor: plausible(gift.worth_minor).max(Minor::ZERO),
            ..gift
        }),
        damage: line.damage.and_then(place).and_then(|at| u32::try_from(at).ok()),
        variant: line.variant().map(str::to_owned),
        pieces: line.pieces(),
    };
    bench::kept(job).map(|item| line(&item.body)).collect()
}

fn found(item: &Item<Damage>) -> FoundDamage {
    let damage = &item.body;
    FoundDamage {
        part: Component::from(damage.part.as_str()),
        condition: Condition::from(damage.condition.as_str()),
        side: damage.side.clone(),
        inside: damage.seen == Seen::Inside,
        decision: damage.decision.clone(),
        pays: damage.pays.clone(),
        at: item.at.into(),
    }
}

/// The parts that were opened, known from what was done, taken out or found inside, and from a construction found on
/// opening.
fn parts(job: &JobState, goods: &Goods, construction_known: bool) -> Vec<Component> {
    let by_steps = job
        .steps
        .iter()
        .flat_map(|step| exposes(&step.body.operation, goods))
        .cloned();
    let taken_out = job
        .taken_out
        .iter()
        .map(|out| Component::from(out.body.part.as_str()));
    let inside = job
        .damage
        .iter()
        .filter(|damage| damage.body.seen == Seen::Inside);
    let by_damage = inside.map(|damage| Component::from(damage.body.part.as_str()));
    let known = if construction_known {
        SEEN_WITH_CONSTRUCTION
    } else {
        &[]
    };
    let mut all = BTreeSet::new();
    all.extend(
        by_steps
            .chain(taken_out)
            .chain(by_damage)
            .chain(known.iter().cloned()),
    );
    all.into_iter().collect()
}

fn people(job: &JobState) -> Vec<PersonId> {
    let mut all = Vec::new();
    for person in job.steps.iter().filter_map(|step| step.person) {
        if !all.contains(&person) {
            all.push(person);
        }
    }
    all
}

fn step(item: &Item<Step>, job: &JobState, people: &[PersonId]) -> StepFact {
    let redo: Option<&Item<Redo>> = job.redone.iter().find(|redo| redo.body.step == item.entry);
    let person = item
        .person
        .and_then(|person| people.iter().position(|one| *one == person));
    StepFact {
        operation: item.body.operation.clone(),
        side: item.body.side.clone(),
        pieces: pieces(&item.body, job),
        minutes: bench::noted_minutes(job, item),
        person: person.and_then(|at| u32::try_from(at).ok()),
        at: item.at.into(),
        used: bench::spent_on(job, item.entry)
            .map(|spent| &spent.used)
            .filter(|used| !used.is_empty())
            .unwrap_or(&item.body.used)
            .clone(),
        redone: redo.is_some(),
        scrap: redo.map_or_else(String::new, |redo| redo.body.scrap.clone()),
        cement: bench::cement_of(job, item).map(str::to_owned),
    }
}

/// How many pieces a step is: those of the line that it names, otherwise those of the only line of its operation.
fn pieces(step: &Step, job: &JobState) -> u32 {
    let lines = || {
        job.agreed.iter().filter(|line| {
            line.last()
                .is_some_and(|last| last.body.operation == step.operation)
        })
    };
    let line = match step.line {
        Some(named) => lines().find(|line| line.is_named(named)),
        None if lines().count() == 1 => lines().next(),
        None => None,
    };
    line.and_then(|line| line.last())
        .map_or(1, |last| last.body.pieces())
}
