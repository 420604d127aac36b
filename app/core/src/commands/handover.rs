//! Pickup: the payment, the final check, and the hand-over of the pair.

use serde::{Deserialize, Serialize};
use shared::log::body::{Checked, HandedOver, Paid, Payment, Side, TakenOut};
use shared::log::fold::{JobState, PairHistory, ShopState, bench};
use shared::log::{Body, Subject, SubjectId, SubjectKind};
use shared::price::minor::Minor;
use shared::trade::final_check::{self, Leaving};
use shared::trade::{CameWith, Component};

use super::done::{done_or_agreed, not_noted};
use super::work::on_job;
use shared::log::Draft;

/// The choices made on the pickup screen of one job that are not saved yet. They are stored as they are made.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
pub struct AtPickup {
    /// The ticked lines of the final check.
    pub ticked: Vec<String>,
    /// Photographs (SHA-256) that are left out of the card.
    pub photos_left_out: Vec<String>,
    /// Advice (by its first sentence) that is left out of the card.
    pub advice_left_out: Vec<String>,
    /// Whether the card states the price.
    pub price_on_card: bool,
    /// Where the pair stands, as typed; `None` if nothing was typed.
    pub shelf: Option<String>,
    /// Months until the next check; `None` for no next check.
    pub next_check: Option<u32>,
    /// The forecast day of the next check and its text, instead of months.
    pub check_as_worn: Option<(String, String)>,
    /// Written notes (by their entry) that are put on the card; none is, unless it was ticked.
    pub notes_on_card: Vec<String>,
    /// What is not quite a match (by its entry) and is left out of the card.
    pub matches_left_out: Vec<String>,
}

/// Pays an amount that is due on a ticket, or refunds it if it is negative. `None` if nothing is due.
pub fn settle(due: Minor, ticket: SubjectId) -> Option<Draft> {
    let what = match due {
        Minor::ZERO => return None,
        due if due.is_positive() => Paid::Balance,
        _ => Paid::Refund,
    };
    Some(pay(ticket, due.abs(), what))
}

/// A payment of an amount in minor units on a ticket.
pub fn pay(ticket: SubjectId, minor: Minor, what: Paid) -> Draft {
    let ticket = Subject::new(SubjectKind::Ticket, ticket);
    Draft::new(ticket, Body::Payment(Payment { minor, what }))
}

/// The lines of the final check that must be ticked for a job: those of the shop's own list that apply, with what the
/// goods add to it, or else of the usual list.
pub fn check_list(history: &PairHistory, job: &JobState, shop: &ShopState) -> Vec<String> {
    let goods = history.pair.goods();
    let came_with: Vec<CameWith> = job.came_with().map(known_or_else).collect();
    let leaving = Leaving {
        goods: goods.as_ref(),
        operations: &done_or_agreed(job),
        came_with: &came_with,
        parts_kept: bench::parts_for_customer(job).next().is_some(),
    };
    let own: Vec<&str> = shop.final_check().collect();
    let lines = final_check::list_for(&own, &leaving);
    // Steps need not be noted, but it must be confirmed that the work was done.
    let not_noted = Some(not_noted(job)).filter(|work| !work.is_empty());
    let not_noted = not_noted.map(|work| words::commands::done_though_not_noted(&work));
    not_noted
        .into_iter()
        .chain(lines.into_iter().map(str::to_owned))
        .collect()
}

/// A known thing that came with the pair; anything that was typed counts as something else, whatever its words.
fn known_or_else(came_with: CameWith) -> CameWith {
    match came_with {
        CameWith::Other(_) => CameWith::SomethingElse,
        known => known,
    }
}

/// Why a pair is not ready, or may not leave yet, in words for the person.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum NotReady {
    /// These lines of the final check are not ticked.
    #[error("{}", words::commands::not_ticked(.0))]
    Unticked(String),
    /// These parts were taken out and are not back.
    #[error("{}", words::commands::parts_not_back_in(.0))]
    PartsOut(String),
    /// A question to the customer is open.
    #[error("{}", words::commands::question_still_open())]
    Asked,
    /// No step is noted and the final check is not finished.
    #[error("{}", words::commands::nothing_noted_as_done())]
    NothingDone,
    /// The final check is not finished.
    #[error("{}", words::commands::final_check_not_finished())]
    Unchecked,
}

/// Finishes the final check: the pair is ready.
///
/// # Errors
/// [`NotReady`] for the first reason.
pub fn check(
    job: SubjectId,
    state: &JobState,
    list: &[String],
    ticked: &[String],
) -> Result<Draft, NotReady> {
    let unticked: Vec<&str> = list
        .iter()
        .filter(|line| !ticked.contains(line))
        .map(|line| final_check::shown(line))
        .collect();
    if !unticked.is_empty() {
        return Err(NotReady::Unticked(unticked.join("; ")));
    }
    nothing_open(state)?;
    let body = Body::Checked(Checked {
        ticked: list.to_vec(),
        vouched: !not_noted(state).is_empty(),
    });
    let over = state
        .checked
        .as_ref()
        .map(shared::log::fold::Slot::entries)
        .unwrap_or_default();
    Ok(on_job(job, body).over(over))
}

/// How a pair leaves the shop.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Leaves {
    /// With the work done and checked.
    Finished,
    /// As it came.
    Unrepaired,
}

/// Hands the pair over.
///
/// # Errors
/// [`NotReady`] if parts are out, a question is open, or the final check is not finished. A pair that goes back as it
/// came needs no check.
pub fn hand_over(job: SubjectId, state: &JobState, leaves: Leaves) -> Result<Draft, NotReady> {
    nothing_open(state)?;
    if leaves == Leaves::Finished && state.checked.is_none() {
        return Err(NotReady::Unchecked);
    }
    let body = Body::HandedOver(HandedOver {
        unrepaired: leaves == Leaves::Unrepaired,
    });
    Ok(on_job(job, body))
}

/// Whether there is work that a card can describe.
///
/// # Errors
/// [`NotReady::NothingDone`] if no step is noted and the final check is not finished.
pub fn can_tell(job: &JobState) -> Result<(), NotReady> {
    let told = bench::done(job).next().is_some() || job.checked.is_some() || job.handed_over.is_some();
    told.then_some(()).ok_or(NotReady::NothingDone)
}

fn nothing_open(job: &JobState) -> Result<(), NotReady> {
    let out = parts_out(job);
    if !out.is_empty() {
        return Err(NotReady::PartsOut(out));
    }
    match bench::open_questions(job).next() {
        Some(_) => Err(NotReady::Asked),
        None => Ok(()),
    }
}

/// The parts that must go back in, in words; empty if there are none.
pub fn parts_out(job: &JobState) -> String {
    let words = bench::parts_out(job).map(|out| part_words(&out.body));
    words.collect::<Vec<_>>().join(", ")
}

/// The old parts that the customer gets with the pair, in words; empty if there are none.
pub fn parts_for_customer(job: &JobState) -> String {
    let words = bench::parts_for_customer(job).map(|out| part_words(&out.body));
    words.collect::<Vec<_>>().join(", ")
}

fn part_words(out: &TakenOut) -> String {
    let component = Component::from(out.part.as_str());
    let part = component.words();
    match &out.side {
        Side::Left => words::commands::part_of_left_shoe(part),
        Side::Right => words::commands::part_of_right_shoe(part),
        Side::Both => words::commands::part_of_both_shoes(part),
        Side::Other(side) => words::commands::part_of_shoe(part, side),
    }
}

/// A message to a customer that their pairs are ready: `pairs` in words, the amount due for them if it is to be stated,
/// and the shop's name and number.
pub fn ready_notice(pairs: &[String], due: Option<&str>, shop: &ShopState) -> String {
    let mut text = words::commands::ready_to_collect(&pairs.join("; "));
    if let Some(due) = due {
        text.push(' ');
        text.push_str(&words::commands::due(due));
    }
    for said in [shop.name(), shop.phone()].into_iter().flatten().map(str::trim) {
        if !said.is_empty() {
            text.push(' ');
            text.push_str(said);
        }
    }
    text
}

#[cfg(test)]
mod tests;
