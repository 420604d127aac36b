//! Drop-off: taking in what a customer brings to the counter, and selling goods over it.

mod form;
mod goods;
mod lines;
mod made_of;
mod missing;
#[cfg(test)]
mod tests;

use serde_json::Value;
use shared::log::body::{self, CardLink, Damage, Detail, Opened, Paid, Payment, field};
use shared::log::{Body, Subject, SubjectId, SubjectKind};
use shared::price::currency::Currency;
use shared::price::minor::Minor;

pub use form::{DropOff, IfHidden, KnownPair, LineIn, PairIn, Paying, SeenDamage};
pub use goods::{GoodsIn, MOST_GOODS, OfferedGoods, counted_goods, listed_goods, sell};
pub use lines::MOST_PIECES;
pub use made_of::{MadeOf, MadeOfEntries};
pub use missing::{DAY, DEPOSIT, DropOffField, Missing, UP_TO, goods_price_id, price_id, work_id};

use super::notes;
use shared::log::Draft;

/// The subjects of a drop-off.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TakenIn {
    /// The customer, if anything is known of them.
    pub customer: Option<SubjectId>,
    /// The ticket.
    pub ticket: SubjectId,
    /// The pairs, in the order of the form.
    pub pairs: Vec<SubjectId>,
    /// Their jobs, in the same order.
    pub jobs: Vec<SubjectId>,
}

/// The drafts of a drop-off, for one save. `tax` is the shop's rate as in its settings; amounts are read in `currency`.
///
/// `new_id` returns new subject ids, `secret` a new card secret for each new pair.
///
/// # Errors
/// [`Missing`] for the first required input that is missing.
pub fn take_in(
    form: &DropOff,
    (tax, currency): (Option<i64>, Currency),
    mut new_id: impl FnMut() -> SubjectId,
    mut secret: impl FnMut() -> String,
) -> Result<(TakenIn, Vec<Draft>), Missing> {
    let mut drafts = Vec::new();
    let customer = customer(form, &mut new_id, &mut drafts);
    let ticket = new_id();
    let mut taken = TakenIn {
        customer,
        ticket,
        pairs: Vec::new(),
        jobs: Vec::new(),
    };
    let mut work = Vec::new();
    for (place, pair_in) in form.brought().iter().enumerate() {
        let pair = match &pair_in.known {
            Some(known) => known.id,
            None => new_id(),
        };
        let job = new_id();
        match &pair_in.known {
            Some(known) => known_pair(pair_in, known, &mut work),
            None => new_pair(pair_in, pair, customer, secret(), &mut work),
        }
        self::job(pair_in, place, [job, pair, ticket], currency, &mut work)?;
        taken.pairs.push(pair);
        taken.jobs.push(job);
    }
    self::ticket(form, (tax, currency), &taken, &mut drafts)?;
    drafts.extend(work);
    Ok((taken, drafts))
}

fn customer(
    form: &DropOff,
    new_id: &mut impl FnMut() -> SubjectId,
    drafts: &mut Vec<Draft>,
) -> Option<SubjectId> {
    let unsaid = form.name.trim().is_empty() && form.phone.trim().is_empty();
    if form.known_customer.is_some() || unsaid {
        return form.known_customer;
    }
    let id = new_id();
    let customer = subject(SubjectKind::Customer, id);
    drafts.push(draft(&customer, Body::Opened(Opened::default())));
    say(&customer, field::NAME, &form.name, drafts);
    say(&customer, field::PHONE, &form.phone, drafts);
    Some(id)
}

fn ticket(
    form: &DropOff,
    (tax, currency): (Option<i64>, Currency),
    taken: &TakenIn,
    drafts: &mut Vec<Draft>,
) -> Result<(), Missing> {
    let ticket = subject(SubjectKind::Ticket, taken.ticket);
    let opened = Opened {
        customer: taken.customer,
        ..Opened::default()
    };
    drafts.push(draft(&ticket, Body::Opened(opened)));
    if form.day.trim().is_empty() && !form.is_sale() {
        return Err(Missing::on_ticket(DropOffField::Day));
    }
    say(&ticket, field::DAY, &form.day, drafts);
    say(&ticket, field::READY_FROM, &form.ready_from, drafts);
    for (name, set) in [
        (field::RUSH, form.rush),
        (field::WHILE_WAITING, form.while_waiting),
    ] {
        if set {
            set_first(&ticket, name, Value::Bool(true), drafts);
        }
    }
    if let Some(allowed) = form.if_hidden {
        let value = match allowed {
            IfHidden::Nothing => Value::from("nothing"),
            IfHidden::Ask => Value::from("ask"),
            IfHidden::UpTo => amount(&form.up_to, currency, DropOffField::UpTo)?.into(),
        };
        set_first(&ticket, field::IF_HIDDEN, value, drafts);
    }
    if let Some(rate) = tax {
        set_first(&ticket, field::TAX, rate.into(), drafts);
    }
    drafts.extend(sell(taken.ticket, &form.goods, currency)?);
    drafts.extend(payment(form, tax, currency)?.map(|paid| draft(&ticket, Body::Payment(paid))));
    Ok(())
}

/// The payment at drop-off; `None` if nothing is paid.
fn payment(form: &DropOff, tax: Option<i64>, currency: Currency) -> Result<Option<Payment>, Missing> {
    let due = form.due(tax, currency).minor;
    let (minor, what) = match form.paying {
        Paying::Later => return Ok(None),
        Paying::Deposit => (
            amount(&form.deposit, currency, DropOffField::Deposit)?,
            Paid::Deposit,
        ),
        Paying::All => (due, Paid::Balance),
    };
    if minor > due {
        return Err(Missing::on_ticket(DropOffField::LessDeposit));
    }
    Ok(minor.is_positive().then_some(Payment { minor, what }))
}

fn amount(text: &str, currency: Currency, asked: DropOffField) -> Result<Minor, Missing> {
    currency.parse(text).ok_or_else(|| Missing::on_ticket(asked))
}

fn new_pair(
    said: &PairIn,
    pair: SubjectId,
    customer: Option<SubjectId>,
    secret: String,
    drafts: &mut Vec<Draft>,
) {
    let pair = subject(SubjectKind::Pair, pair);
    let opened = Opened {
        customer,
        ..Opened::default()
    };
    drafts.push(draft(&pair, Body::Opened(opened)));
    drafts.push(draft(&pair, Body::CardLink(CardLink { secret })));
    let fields = [
        (field::GOODS, &said.goods),
        (field::LOOK, &said.look),
        (field::COLOUR, &said.colour),
        (field::MAKER, &said.maker),
    ];
    for (name, text) in fields {
        say(&pair, name, text, drafts);
    }
    let made_of = &said.made_of;
    drafts.extend(made_of.drafts(&pair, &MadeOf::default(), &MadeOfEntries::default()));
}

/// What the form adds to a pair that was in the shop before, or corrects of it.
fn known_pair(said: &PairIn, known: &KnownPair, drafts: &mut Vec<Draft>) {
    let pair = subject(SubjectKind::Pair, known.id);
    if known.goods.is_empty() {
        say(&pair, field::GOODS, &said.goods, drafts);
    }
    let corrected = said.made_of.drafts(&pair, &known.made_of, &known.made_of_entries);
    drafts.extend(corrected);
}

fn job(
    said: &PairIn,
    place: usize,
    [job, pair, ticket]: [SubjectId; 3],
    currency: Currency,
    drafts: &mut Vec<Draft>,
) -> Result<(), Missing> {
    let missing = |what| Missing {
        pair: Some(place),
        what,
    };
    let job = subject(SubjectKind::Job, job);
    let opened = Opened {
        pair: Some(pair),
        ticket: Some(ticket),
        customer: None,
    };
    drafts.push(draft(&job, Body::Opened(opened)));
    if said.lines.is_empty() {
        return Err(missing(DropOffField::Work));
    }
    for (at, line) in said.lines.iter().enumerate() {
        let asked = || DropOffField::Price {
            line: at,
            work: line.name(),
            typed: line.price.clone(),
        };
        let price = currency.parse(&line.price).ok_or_else(|| missing(asked()))?;
        drafts.push(draft(&job, Body::Agreed(line.agreed(price))));
    }
    if said.tag.trim().is_empty() {
        drafts.push(Draft::next_tag(job.clone()));
    } else {
        say(&job, field::TAG, &said.tag, drafts);
    }
    as_brought(said, &job, drafts);
    drafts.extend(notes::wish(job.id, &said.wish));
    Ok(())
}

/// The condition of the pair when it was brought, and what came with it.
fn as_brought(said: &PairIn, job: &Subject, drafts: &mut Vec<Draft>) {
    if let Some(construction) = &said.construction {
        say(job, field::CONSTRUCTION_GUESSED, construction.as_str(), drafts);
    }
    let also = said.came_with_else.trim();
    let came_with = said.came_with.iter().map(String::as_str).chain([also]);
    let came_with: Vec<Value> = came_with.filter(|one| !one.is_empty()).map(Value::from).collect();
    if !came_with.is_empty() {
        set_first(job, field::CAME_WITH, came_with.into(), drafts);
    }
    drafts.extend(said.damage.iter().map(|seen| {
        let damage = Damage {
            part: seen.part.as_str().to_owned(),
            condition: seen.condition.as_str().to_owned(),
            side: seen.side.clone(),
            seen: body::Seen::Counter,
            decision: None,
            pays: None,
            note: String::new(),
        };
        draft(job, Body::Damage(damage))
    }));
}

fn subject(kind: SubjectKind, id: SubjectId) -> Subject {
    Subject::new(kind, id)
}

/// The first entry of its kind on a subject, which replaces nothing.
fn draft(subject: &Subject, body: Body) -> Draft {
    Draft::new(subject.clone(), body)
}

/// Sets a field that has no value yet.
fn set_first(subject: &Subject, field: &str, value: Value, drafts: &mut Vec<Draft>) {
    let detail = Detail {
        field: field.to_owned(),
        value,
    };
    drafts.push(draft(subject, Body::Detail(detail)));
}

/// Sets a text field that has no value yet, unless the text is empty.
fn say(subject: &Subject, field: &str, text: &str, drafts: &mut Vec<Draft>) {
    let text = text.trim();
    if !text.is_empty() {
        set_first(subject, field, text.into(), drafts);
    }
}
