//! The lines of a card about the work: what was done, line by line, and what else the customer should know.

use shared::log::EntryId;
use shared::log::body::{Agreed, Side};
use shared::log::fold::{AgreedLine, JobState, PairHistory, bench};
use shared::trade::{Component, line_plain, operations};

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

/// What the customer should know beside the work: the notes that were ticked, and the old parts that go with the pair.
pub(super) fn remarks(history: &PairHistory, job: &JobState, chosen: &AtPickup) -> Vec<String> {
    let ticked = |entry: EntryId| chosen.notes_on_card.contains(&entry.to_string());
    let notes = written(history, job)
        .into_iter()
        .filter(|note| ticked(note.entry));
    notes.map(|note| note.text).chain(old_parts(job)).collect()
}

/// That old parts of the pair are with it, because the customer wants to have them.
fn old_parts(job: &JobState) -> Vec<String> {
    let (mut said, mut others): (Vec<String>, Vec<String>) = (Vec::new(), Vec::new());
    for out in bench::parts_for_customer(job) {
        let part = Component::from(out.body.part.as_str());
        let side = match out.body.side {
            Side::Left => Some(words::card::left()),
            Side::Right => Some(words::card::right()),
            Side::Both | Side::Other(_) => None,
        };
        match (&part, side) {
            (Component::HeelBase, None) => said.push(words::commands::old_heels_with_pair().to_owned()),
            (Component::HeelBase, Some(side)) => said.push(words::commands::old_heel_with_pair(side)),
            (Component::Outsole, None) => said.push(words::commands::old_soles_with_pair().to_owned()),
            (Component::Outsole, Some(side)) => said.push(words::commands::old_sole_with_pair(side)),
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
