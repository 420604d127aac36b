//! The summary of a pair: the line that lists, the bench and the search show.

use std::cmp::Reverse;
use std::collections::BTreeMap;

use serde::{Deserialize, Deserializer, Serialize};

use super::bench;
use super::customer_state::CustomerState;
use super::gather::PairHistory;
use super::job_state::JobState;
use super::next_line::NextLine;
use super::pair_state::PairState;
use super::search_words;
use super::ticket_state::TicketState;
use crate::log::body::OperationCode;
use crate::log::body::{Shows, WaitFor, field};
use crate::log::entry::{SubjectId, UnixMs};
use crate::log::inserted;
use crate::log::skipped_fields::is_zero;
use crate::text::unless_empty;
use crate::trade::formulas::day::Day;
use crate::trade::operations;
use crate::trade::{Goods, Material};

/// One job of a summary.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct JobLine {
    /// The job.
    pub id: SubjectId,
    /// Its ticket.
    #[serde(default)]
    pub ticket: Option<SubjectId>,
    /// The number hung on the pair.
    #[serde(default)]
    pub tag: String,
    /// The day promised; `None` also if the log has a text that is not a day.
    #[serde(
        default,
        skip_serializing_if = "Option::is_none",
        deserialize_with = "day_if_any"
    )]
    pub day: Option<Day>,
    /// The time on that day from which it is promised to be ready, `HH:MM`; `None` if it is promised for the end of the
    /// day.
    #[serde(
        default,
        skip_serializing_if = "Option::is_none",
        deserialize_with = "text_if_any"
    )]
    pub ready_from: Option<String>,
    /// When it was opened, for display.
    pub opened_at: UnixMs,
    /// Whether the pair is still in the shop for this job.
    pub open: bool,
    /// Operations agreed, one version of each line.
    #[serde(default)]
    pub agreed: Vec<OperationCode>,
    /// Operations done.
    #[serde(default)]
    pub done: Vec<OperationCode>,
    /// How many photographs it has.
    #[serde(default)]
    pub photos: u32,
    /// Whether two devices agreed on different work, so that somebody must decide.
    #[serde(default)]
    pub disputed: bool,
    /// Whether its section of the card has been published.
    #[serde(default)]
    pub published: bool,
    /// Operations still to be done, next first.
    #[serde(default)]
    pub left: Vec<OperationCode>,
    /// Of each operation still to be done, the line that is done next.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub next_lines: BTreeMap<OperationCode, NextLine>,
    /// Of the operations still to be done, those that take more or less than the usual work on a pair, with the amount in
    /// percent: two zips are 200, one shoe is half.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub amounts: BTreeMap<OperationCode, u32>,
    /// Of the operations still to be done, those that were done in part with a cement that was named, as in
    /// [`Step::cement`](crate::log::body::Step::cement).
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub cements: BTreeMap<OperationCode, String>,
    /// When the last of the running waits that have a length ends.
    #[serde(default)]
    pub dry_at: Option<UnixMs>,
    /// The operation that this wait follows, or what it is for; `None` if there is no such wait or it was not noted.
    #[serde(
        default,
        skip_serializing_if = "Option::is_none",
        deserialize_with = "text_if_any"
    )]
    pub drying_operation: Option<String>,
    /// What dries there, a word of [`WaitKind`](crate::trade::WaitKind); `None` if it was not noted.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub drying_kind: Option<String>,
    /// How often a wait of this kind was noted for the operation since the last step.
    #[serde(default, skip_serializing_if = "is_zero")]
    pub drying_waits_noted: u32,
    /// Material that is ordered and has not come.
    #[serde(
        default,
        skip_serializing_if = "Option::is_none",
        deserialize_with = "text_if_any"
    )]
    pub material: Option<String>,
    /// Whether a question to the customer is open.
    #[serde(default)]
    pub asked: bool,
    /// When the customer wants to be called again, in their words.
    #[serde(
        default,
        skip_serializing_if = "Option::is_none",
        deserialize_with = "text_if_any"
    )]
    pub call_at: Option<String>,
    /// When the final check was finished; the pair is ready from then on.
    #[serde(default)]
    pub ready_at: Option<UnixMs>,
    /// Where the pair stands when it is ready.
    #[serde(
        default,
        skip_serializing_if = "Option::is_none",
        deserialize_with = "text_if_any"
    )]
    pub shelf: Option<String>,
    /// Whether the customer wants it sooner than the shop would promise.
    #[serde(default)]
    pub rush: bool,
    /// Whether the customer waits in the shop.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub waits: bool,
    /// Whether it repeats earlier work because of a complaint.
    #[serde(default)]
    pub complaint: bool,
    /// Whether the pair goes back as it is.
    #[serde(default)]
    pub unrepaired: bool,
    /// Whether the bench does it before all other jobs.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub first: bool,
    /// The construction as it was guessed at the counter.
    #[serde(
        default,
        skip_serializing_if = "Option::is_none",
        deserialize_with = "text_if_any"
    )]
    pub guessed: Option<String>,
}

/// Reads a text that may be absent. Version 0.1.0 wrote an empty text for none.
fn text_if_any<'de, D: Deserializer<'de>>(from: D) -> Result<Option<String>, D::Error> {
    let text = Option::<String>::deserialize(from)?;
    Ok(text.and_then(unless_empty))
}

/// Reads a day that may be absent. Version 0.1.0 wrote an empty text for none, and any text of the log.
fn day_if_any<'de, D: Deserializer<'de>>(from: D) -> Result<Option<Day>, D::Error> {
    Ok(text_if_any(from)?.as_deref().and_then(Day::parse))
}

impl JobLine {
    /// The name of the line that is done next of an operation, with its variant, number and shoe; of an operation that
    /// is not still to be done, the operation's name.
    pub fn name_of(&self, operation: &OperationCode) -> String {
        match self.next_lines.get(operation) {
            Some(line) => line.name(operation),
            None => operations::name(operation).to_owned(),
        }
    }

    /// The short name of that line on a tile; of an operation that is not still to be done, the operation's tile name.
    pub fn tile_name_of(&self, operation: &OperationCode) -> String {
        match self.next_lines.get(operation) {
            Some(line) => line.tile_name(operation),
            None => operations::tile_name(operation).to_owned(),
        }
    }
}

/// What lists show of a pair: small enough that a device keeps one for every pair the shop ever had.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Summary {
    /// The canonical pair.
    pub id: SubjectId,
    /// What it is, in words: maker, colour and look, or its kind.
    pub title: String,
    /// The customer's name.
    #[serde(default)]
    pub customer: String,
    /// The customer's telephone number, for search by its last digits.
    #[serde(default)]
    pub phone: String,
    /// SHA-256 of the thumbnail that stands for the pair in lists.
    #[serde(default)]
    pub face: Option<String>,
    /// Which kind of shoe or other goods, by its word in [`Goods`]; empty if not stated.
    #[serde(default)]
    pub goods: String,
    /// What upper and sole are made of; empty if not stated.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub materials: Vec<Material>,
    /// Remarks on it, for the search: the newest ones, cut at 400 characters.
    #[serde(default)]
    pub notes: String,
    /// The words of what was logged about it, for the search, each once, of the newest job first: findings, work, parts
    /// that were taken off, measurements, products, goods sold. At most 600 bytes.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub logged: String,
    /// Its jobs, newest first.
    pub jobs: Vec<JobLine>,
}

/// Stands in the text of a search between what tells one pair from another and what was logged about it.
pub const LOGGED_FROM: char = '\u{1f}';

impl Summary {
    /// Summarises the history of a pair.
    pub fn of(history: &PairHistory) -> Summary {
        let mut jobs: Vec<_> = history
            .jobs
            .iter()
            .map(|(id, job)| job_line(*id, job, history))
            .collect();
        jobs.sort_by_key(|job| Reverse((job.opened_at, job.id)));
        let customer = owner(history);
        let of_customer =
            |read: fn(&CustomerState) -> Option<&str>| customer.and_then(read).unwrap_or_default().to_owned();
        Summary {
            id: history.id,
            title: title(&history.pair),
            customer: of_customer(CustomerState::name),
            phone: of_customer(CustomerState::phone),
            face: face(history),
            goods: history.pair.goods_code().unwrap_or_default().to_owned(),
            materials: history.pair.materials().collect(),
            notes: search_words::notes(history),
            logged: search_words::logged(history),
            jobs,
        }
    }

    /// The name of the pair in sentences: its title, or "pair" words for a pair without one, see [`named`].
    pub fn name(&self) -> &str {
        named(&self.title)
    }

    /// Whether the pair is in the shop.
    pub fn open(&self) -> bool {
        self.jobs.iter().any(|job| job.open)
    }

    /// The text a search looks through: lower case, one line. It ends with what was logged, after [`LOGGED_FROM`]; who
    /// looks for a customer by name reads only what is before it.
    pub fn search_text(&self) -> String {
        let mut words = vec![self.title.as_str(), self.customer.as_str(), self.notes.as_str()];
        words.extend(self.jobs.iter().map(|job| job.tag.as_str()));
        let digits: String = self.phone.chars().filter(char::is_ascii_digit).collect();
        words.push(&digits);
        let mut text = words.join(" ").replace(['\n', LOGGED_FROM], " ");
        if !self.logged.is_empty() {
            text.push(LOGGED_FROM);
            text.push_str(&self.logged);
        }
        text.to_lowercase()
    }
}

/// The title in sentences; for an empty title, words that say it is a pair.
pub fn named(title: &str) -> &str {
    if title.is_empty() { "A pair" } else { title }
}

/// Maker, colour and look, as far as they are known; if the look is not known, the kind of goods.
pub fn title(pair: &PairState) -> String {
    let goods = pair.goods();
    let goods = goods.as_ref().map_or("", Goods::words);
    let [maker, colour, look] = [pair.maker(), pair.colour(), pair.look()].map(Option::unwrap_or_default);
    let alone = maker.is_empty() && colour.is_empty();
    let kind = match look.is_empty() {
        true if alone => goods.to_owned(),
        true => goods.to_lowercase(),
        false => look.to_owned(),
    };
    let said = [maker, colour, &kind].into_iter().filter(|word| !word.is_empty());
    said.collect::<Vec<_>>().join(" ")
}

/// The customer of the latest ticket that names one, else the pair's own.
pub fn customer_of(history: &PairHistory) -> Option<SubjectId> {
    let of_tickets = history.tickets.values().rev().filter_map(TicketState::customer);
    let mut named = of_tickets.chain(history.pair.customer());
    named.find(|id| history.customers.contains_key(id))
}

/// Every id of the customer whom the summary names: [`customer_of`], and those that are the same.
pub fn owner_ids(history: &PairHistory) -> impl Iterator<Item = SubjectId> {
    let owner = owner(history);
    let all = history.customers.iter();
    // Customers who are the same share one state.
    let ids = all.filter(move |(_, state)| owner.is_some_and(|owner| std::ptr::eq(owner, *state)));
    ids.map(|(id, _)| *id)
}

fn owner(history: &PairHistory) -> Option<&CustomerState> {
    history.customers.get(&customer_of(history)?)
}

/// The thumbnail that stands for the pair: the first photograph of the latest drop-off, or else the latest photograph
/// of any kind.
fn face(history: &PairHistory) -> Option<String> {
    let photos = || {
        history
            .jobs
            .values()
            .rev()
            .flat_map(|job| job.photos.iter().rev())
    };
    let mut jobs = history.jobs.values().rev();
    let brought = jobs.find_map(|job| job.photos.iter().find(|photo| photo.body.shows == Shows::DropOff));
    brought
        .or_else(|| photos().next())
        .map(|photo| photo.body.thumb.sha256.clone())
}

/// Of each of these operations, the line that is done next.
fn next_lines(job: &JobState, left: &[&str]) -> BTreeMap<OperationCode, NextLine> {
    let next = |code: &&str| {
        let line = bench::line_of(job, code)?;
        Some((OperationCode::from(*code), NextLine::of(line)))
    };
    inserted(left.iter().filter_map(next))
}

fn job_line(id: SubjectId, job: &JobState, history: &PairHistory) -> JobLine {
    let ticket = job.ticket();
    let on_ticket = ticket.and_then(|ticket| history.tickets.get(&ticket));
    let material = bench::open_waits(job).find(|wait| wait.body.what == WaitFor::Material);
    let call_at = bench::open_questions(job)
        .filter_map(|question| bench::answer_to(job, question.entry))
        .map(|answer| answer.body.call_at.clone());
    let unrepaired = bench::goes_back_unrepaired(job);
    let left = if unrepaired {
        Vec::new()
    } else {
        bench::remaining(job)
    };
    let dries = bench::open_waits(job).filter_map(|wait| Some((bench::ends(wait)?, &wait.body)));
    let dries = dries.max_by_key(|(end, _)| *end);
    JobLine {
        id,
        ticket,
        tag: job.tag().unwrap_or_default().to_owned(),
        day: on_ticket.and_then(TicketState::day).and_then(Day::parse),
        ready_from: on_ticket.and_then(TicketState::ready_from).map(str::to_owned),
        opened_at: job.opened.as_ref().map_or(UnixMs(0), |slot| slot.current.at.utc),
        open: job.handed_over.is_none(),
        agreed: bench::agreed(job)
            .map(|line| line.body.operation.clone())
            .collect(),
        done: bench::done(job).map(|step| step.body.operation.clone()).collect(),
        photos: u32::try_from(job.photos.len()).unwrap_or(u32::MAX),
        disputed: job.agreed.iter().any(|line| line.versions.len() > 1),
        published: !job.published.is_empty(),
        next_lines: next_lines(job, &left),
        amounts: bench::amounts(job, &left),
        cements: bench::cements(job, &left),
        left: left.into_iter().map(OperationCode::from).collect(),
        dry_at: dries.map(|(end, _)| end),
        drying_operation: dries.and_then(|(_, wait)| unless_empty(&wait.note)).cloned(),
        drying_kind: dries.and_then(|(_, wait)| wait.dries.clone()),
        drying_waits_noted: dries.map_or(0, |(_, wait)| bench::times_noted(job, wait)),
        material: material.map(|wait| {
            if wait.body.note.is_empty() {
                "material".to_owned()
            } else {
                wait.body.note.clone()
            }
        }),
        asked: bench::open_questions(job).next().is_some(),
        call_at: call_at.last().and_then(unless_empty),
        ready_at: job.checked.as_ref().map(|slot| slot.current.at.utc),
        shelf: job.shelf().map(str::to_owned),
        rush: on_ticket.is_some_and(TicketState::is_rush),
        waits: on_ticket.is_some_and(TicketState::is_while_waiting),
        complaint: job.complaint.is_some(),
        unrepaired,
        first: job.is_first(),
        guessed: job.details.text(field::CONSTRUCTION_GUESSED).map(str::to_owned),
    }
}
