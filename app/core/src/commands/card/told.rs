//! The lines of a card about the work: what was done, line by line, and what else the customer should know.

use shared::log::EntryId;
use shared::log::body::{Agreed, Side};
use shared::log::fold::{AgreedLine, JobState, PairHistory, bench};
use shared::trade::{Class, Component, SoleHeldBy, line_plain, operations};

use crate::commands::done::{done, vouched};
use crate::commands::handover::AtPickup;
use crate::commands::matches::{match_line, matches};
use crate::commands::notes::written;

/// What was done: each agreed line in its own words, and an operation that was not agreed in those of the trade; then
/// what is not quite a match. Work at no charge is not among it.
pub(super) fn work(job: &JobState, chosen: &AtPickup) -> Vec<String> {
    let mut told: Vec<String> = Vec::new();
    for code in done(job) {
        let kept = job.agreed.iter().filter(|line| !bench::is_skipped(job, line));
        let mut lines = kept
            .filter(|line| line.last().is_some_and(|line| line.body.operation == code))
            .peekable();
        let texts: Vec<String> = if lines.peek().is_none() {
            vec![
                operations::operation(code).map_or_else(|| code.to_owned(), |known| known.plain().to_owned()),
            ]
        } else {
            lines.filter_map(|line| line_done(job, line)).collect()
        };
        for text in texts {
            if !told.contains(&text) {
                told.push(text);
            }
        }
    }
    let shown = matches(job).filter(|item| !chosen.matches_left_out.contains(&item.entry.to_string()));
    told.extend(shown.map(|item| match_line(&item.body)));
    told
}

/// A line in the words of the customer, as far as it was done: on one shoe, if only that one was; `None` if it was not
/// begun, and for work at no charge.
fn line_done(job: &JobState, line: &AgreedLine) -> Option<String> {
    let agreed = &line.last()?.body;
    if agreed.gift.is_some() {
        return None;
    }
    let is_open = |entry: EntryId| bench::open_lines(job).any(|open| open.entry == entry);
    if job.steps.is_empty() || vouched(job) || !is_open(line.last()?.entry) {
        return Some(line_plain(agreed));
    }
    let mut steps = bench::done(job).filter(|step| {
        step.body.operation == agreed.operation && step.body.line.is_none_or(|named| line.is_named(named))
    });
    steps.next().map(|step| {
        line_plain(&Agreed {
            side: step.body.side.clone(),
            ..agreed.clone()
        })
    })
}

/// What the customer should know beside the work: the notes that were ticked, what holds the sole if that has changed,
/// the old parts that were put back, and those that go with the pair.
pub(super) fn remarks(history: &PairHistory, job: &JobState, chosen: &AtPickup) -> Vec<String> {
    let ticked = |entry: EntryId| chosen.notes_on_card.contains(&entry.to_string());
    let notes = written(history, job)
        .into_iter()
        .filter(|note| ticked(note.entry));
    let mut told: Vec<String> = notes.map(|note| note.text).collect();
    told.extend(sole_held_anew(job));
    told.extend(put_back(history, job));
    told.extend(old_parts(job));
    told
}

/// What holds the sole now, and how the shoe is made; `None` if that has not changed, or is not known.
fn sole_held_anew(job: &JobState) -> Option<String> {
    let now = job.construction_changed()?;
    let before = job.construction_before()?;
    if now.plain().is_empty() {
        return Some(words::commands::sole_is_now_held_like(now.words()));
    }
    let held = now.sole_held_by();
    let lead = match held {
        Some(SoleHeldBy::Stitch) if before.sole_held_by() != held => words::commands::sole_is_now_stitched(),
        Some(SoleHeldBy::Cement) if before.sole_held_by() != held => words::commands::sole_is_now_glued(),
        _ => words::commands::sole_is_now_held_in_another_way(),
    };
    Some([lead, now.plain()].join(" "))
}

/// That old parts were used again, each part of a shoe once.
fn put_back(history: &PairHistory, job: &JobState) -> Vec<String> {
    let goods = history.pair.goods();
    let shoes = goods
        .as_ref()
        .is_none_or(|goods| goods.is_any_of(Class::FOOTWEAR));
    let mut said: Vec<String> = Vec::new();
    for (out, _) in bench::parts_put_back(job) {
        let component = Component::from(out.body.part.as_str());
        let part = component.plain().to_lowercase();
        let part = match (one_shoe(&out.body.side), &out.body.side) {
            (Some(side), _) => words::commands::old_part_of_one_shoe(&part, side),
            (None, Side::Both) if shoes => words::commands::old_part_of_each_shoe(&part),
            (None, _) => part,
        };
        let text = if component.is_inside() && shoes {
            words::commands::old_part_put_back_in(&part)
        } else {
            words::commands::old_part_put_back(&part)
        };
        if !said.contains(&text) {
            said.push(text);
        }
    }
    said
}

/// The one shoe of a part, in the middle of a sentence; `None` for both.
fn one_shoe(side: &Side) -> Option<&'static str> {
    match side {
        Side::Left => Some(words::card::left()),
        Side::Right => Some(words::card::right()),
        Side::Both | Side::Other(_) => None,
    }
}

/// That old parts of the pair are with it, because the customer wants to have them.
fn old_parts(job: &JobState) -> Vec<String> {
    let (mut said, mut others): (Vec<String>, Vec<String>) = (Vec::new(), Vec::new());
    for out in bench::parts_for_customer(job) {
        let part = Component::from(out.body.part.as_str());
        match (&part, one_shoe(&out.body.side)) {
            (Component::HeelBase, None) => said.push(words::commands::old_heels_with_pair().to_owned()),
            (Component::HeelBase, Some(side)) => said.push(words::commands::old_heel_with_pair(side)),
            (Component::Outsole, None) => said.push(words::commands::old_soles_with_pair().to_owned()),
            (Component::Outsole, Some(side)) => said.push(words::commands::old_sole_with_pair(side)),
            (Component::TopPiece, None) => said.push(words::commands::old_heel_tips_with_pair().to_owned()),
            (Component::TopPiece, Some(side)) => said.push(words::commands::old_heel_tip_with_pair(side)),
            (_, None) => others.push(part.plain().to_lowercase()),
            (_, Some(side)) => others.push(words::commands::old_part_of_one_shoe(
                &part.plain().to_lowercase(),
                side,
            )),
        }
    }
    if !others.is_empty() {
        let others: Vec<&str> = others.iter().map(String::as_str).collect();
        said.push(words::commands::old_parts_with_pair(&words::lists::and(&others)));
    }
    said
}
