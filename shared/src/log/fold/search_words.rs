//! What a search finds of a pair beside its name, number and customer: the remarks on it, and the words of what was
//! logged about it.
//!
//! Both are kept with the summary of every pair on every phone, so both are cut at a length.

use serde_json::Value;
use words::Language;

use super::gather::PairHistory;
use super::job_state::JobState;
use crate::log::body::{Measured, Step, WaitFor};
use crate::trade::{CementKind, Component, Condition, line_name, operations};

/// The most characters of remarks.
const NOTES: usize = 400;
/// The most bytes of words of what was logged.
const LOGGED: usize = 600;

/// The remarks on the pair, its jobs, their steps and findings, and its tickets, newest first.
pub(super) fn notes(history: &PairHistory) -> String {
    let of_jobs = history.jobs.values().rev().flat_map(|job| {
        let notes = job.notes.iter().rev().map(|note| &note.body.text);
        let steps = job.steps.iter().rev().map(|step| &step.body.note);
        let found = job.damage.iter().rev().map(|damage| &damage.body.note);
        notes.chain(steps).chain(found)
    });
    let of_pair = history.pair.notes.iter().rev().map(|note| &note.body.text);
    let tickets = history.tickets.values().rev();
    let of_tickets = tickets.flat_map(|ticket| ticket.notes.iter().rev().map(|note| &note.body.text));
    let mut all = String::new();
    let texts = of_jobs.chain(of_pair).chain(of_tickets);
    for text in texts.filter(|text| !text.is_empty()) {
        if !all.is_empty() {
            all.push(' ');
        }
        all.extend(text.chars().take(NOTES));
        if all.len() >= NOTES {
            break;
        }
    }
    all.chars().take(NOTES).collect()
}

/// The words of what was logged about the pair, each once. The trade's own words are in every usage, so that a person who
/// types another usage than the shop speaks finds the pair too. What is searched for most comes first, because the rest
/// may be cut off: the work of each job from the newest on, then what the pair is, what was sold with it, and what was
/// asked.
pub(super) fn logged(history: &PairHistory) -> String {
    let jobs = || history.jobs.values().rev();
    let mut all = LoggedWords::default();
    for job in jobs() {
        all.add_in_each_usage(|| work_on(job));
    }
    all.add_in_each_usage(|| description(history));
    let sold = history.tickets.values().rev().flat_map(|ticket| &ticket.sold);
    sold.for_each(|item| all.add(&item.body.what));
    for job in jobs() {
        said_about(job).for_each(|text| all.add(text));
    }
    all.text
}

/// What was found, agreed, done, taken off and measured on a job, in the usage that is spoken.
fn work_on(job: &JobState) -> Vec<String> {
    let part = |code: &str| Component::from(code).words().to_owned();
    let mut said = Vec::new();
    for found in &job.damage {
        said.push(part(&found.body.part));
        said.push(Condition::from(found.body.condition.as_str()).words().to_owned());
    }
    let versions = job.agreed.iter().flat_map(|line| &line.versions);
    said.extend(versions.map(|line| line_name(&line.body)));
    for step in &job.steps {
        said.extend(step_words(&step.body));
    }
    for spent in &job.spent {
        said.extend(spent.body.cement.as_deref().map(cement_words));
        said.extend(spent.body.used.iter().map(|used| used.material.clone()));
    }
    said.extend(job.taken_out.iter().map(|out| part(&out.body.part)));
    for measured in &job.measured {
        said.extend(measured_words(&measured.body));
    }
    said
}

/// A step: the operation, the cement and the materials.
fn step_words(step: &Step) -> Vec<String> {
    let mut said = vec![operations::name(&step.operation).to_owned()];
    said.extend(step.cement.as_deref().map(cement_words));
    said.extend(step.used.iter().map(|used| used.material.clone()));
    said
}

/// The kind of a cement, or the name of the shop's own product.
fn cement_words(cement: &str) -> String {
    match CementKind::of(cement) {
        Some(kind) => kind.words().to_owned(),
        None => cement.to_owned(),
    }
}

/// A measurement: what it is called, its result, and each number with the words and the unit in its field's name.
fn measured_words(measured: &Measured) -> Vec<String> {
    let Measured { what, say, given, .. } = measured;
    let mut said = vec![words::calc::title(what).to_owned(), say.clone()];
    if let Some(part) = given.get("part").and_then(Value::as_str) {
        said.push(words::history::thickness(Component::from(part).words()));
    }
    for (field, value) in given {
        let Some(number) = value.as_f64() else { continue };
        said.extend(words::history::quantity(what, field).map(str::to_owned));
        said.push(field.replace('_', " "));
        said.push(number.to_string());
    }
    said
}

/// What the pair is: its kind, its materials, and its construction as far as a job says it.
fn description(history: &PairHistory) -> Vec<String> {
    let pair = &history.pair;
    let mut said: Vec<String> = Vec::new();
    said.extend(pair.goods().map(|goods| goods.words().to_owned()));
    let materials = pair.materials().chain(pair.lining());
    said.extend(materials.map(|material| material.words().to_owned()));
    let of_jobs = history.jobs.values().rev().flat_map(|job| {
        let known = [
            job.construction_left(),
            job.construction_opened(),
            job.construction_guessed(),
        ];
        known.into_iter().flatten()
    });
    said.extend(of_jobs.map(|construction| construction.words().to_owned()));
    said
}

/// What was asked, ordered and complained of on a job, in the words in which it was written down.
fn said_about(job: &JobState) -> impl Iterator<Item = &str> {
    let questions = job.questions.iter().map(|question| question.body.text.as_str());
    let waits = job
        .waits
        .iter()
        .filter(|wait| wait.body.what == WaitFor::Material);
    let ordered = waits.map(|wait| wait.body.note.as_str());
    let complaint = job.complaint.iter().map(|slot| slot.current.body.note.as_str());
    questions.chain(ordered).chain(complaint)
}

/// Words, each once, until there is no more room.
#[derive(Default)]
struct LoggedWords {
    text: String,
    /// The same in lower case, as it is searched.
    lower: String,
}

impl LoggedWords {
    /// Adds the words of a text. A word that is part of one that is there already would be found without it, so it is
    /// left out.
    fn add(&mut self, text: &str) {
        for word in text.split_whitespace() {
            let word = word.trim_matches(|letter: char| !letter.is_alphanumeric());
            let lower = word.to_lowercase();
            if self.lower.contains(&lower) || self.text.len() + word.len() >= LOGGED {
                continue;
            }
            if !self.text.is_empty() {
                self.text.push(' ');
                self.lower.push(' ');
            }
            self.text.push_str(word);
            self.lower.push_str(&lower);
        }
    }

    /// Adds the words of texts that are made of the trade's words, in every usage.
    fn add_in_each_usage(&mut self, texts: impl Fn() -> Vec<String>) {
        for language in Language::ALL {
            for text in words::speaking(language, &texts) {
                self.add(&text);
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_are_kept_once_and_are_bounded() {
        let mut all = LoggedWords::default();
        all.add("Half soles, leather (half sole)");
        all.add("LEATHER 12 mm");
        assert_eq!(all.text, "Half soles leather 12 mm");
        for number in 0..1_000 {
            all.add(&format!("word{number:04}ä"));
        }
        let length = all.text.len();
        assert!(length <= LOGGED && length > LOGGED - 20, "{length}");
    }
}
