//! Which agreed line the minutes and the material of a job belong to, and which of them nobody paid for.
//!
//! - Work that is a line of its own belongs to that line.
//! - Work at no charge belongs to the paid line that opened the damaged part: of the lines that open it, the one with
//!   the highest price, otherwise the one with the highest price of all; never an extra that repairs damage itself.
//!   *Needed* work is carried by that line; work by the repairer's choice is counted as given.
//! - On a job that repeats earlier work because of a complaint, all work that is not a paid line belongs to the
//!   repeated work.
//! - All other work on a job (taking the sole off, the final check, acts without a name) belongs to the paid lines, in
//!   proportion to their own minutes.

mod sorting;

use std::collections::BTreeMap;

use super::materials::{Stock, job_cost};
use super::minutes::Attended;
use super::records::{JobFacts, LineFact};
use crate::log::body::{OperationCode, Side};
use crate::log::entry::{PersonId, SubjectId};
use crate::price::minor::Minor;
use crate::trade::{Component, Goods, conditions, exposes, remedies};
use sorting::Sorting;

/// Minutes and material of work that nobody paid for.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct Effort {
    /// Attended minutes.
    pub minutes: f64,
    /// The cost of material, in minor units.
    pub materials: f64,
    /// What would have been charged for it, in minor units.
    pub worth: Minor,
}

impl Effort {
    fn add(&mut self, other: Effort) {
        self.minutes += other.minutes;
        self.materials += other.materials;
        self.worth += other.worth;
    }
}

/// One operation that was paid for, with all work that was done for it.
#[derive(Debug, Clone, PartialEq)]
pub struct LineWork {
    /// The operation.
    pub operation: OperationCode,
    /// Whether it was done on both shoes.
    pub both: bool,
    /// How much of the operation's usual work it is, as a factor.
    pub amount: f64,
    /// Whether it is an extra: it repairs damage that the other work opened.
    pub extra: bool,
    /// The price as charged, in minor units.
    pub price: Minor,
    /// Attended minutes of its own; 0 where they are not known.
    pub minutes: f64,
    /// The cost of its own material, in minor units.
    pub materials: f64,
    /// Needed work that was not paid for.
    pub carried: Effort,
    /// Work given by choice that was not paid for.
    pub given: Effort,
    /// Minutes by person, of all of the above.
    pub people: Vec<(Option<PersonId>, f64)>,
}

/// Needed work that repairs damage found inside.
#[derive(Debug, Clone, PartialEq)]
pub struct Answered {
    /// The part.
    pub part: Component,
    /// The line that carries it: an index into [`JobWork::lines`].
    pub line: usize,
    /// The minutes of the repair; 0 where they are not known.
    pub minutes: f64,
}

/// A job's work by the line it was done for.
#[derive(Debug, Clone, PartialEq)]
pub struct JobWork {
    /// The paid operations, each once; empty where nothing was to be paid.
    pub lines: Vec<LineWork>,
    /// The needed repairs, each part once.
    pub needed: Vec<Answered>,
    /// All attended minutes, by person.
    pub people: BTreeMap<Option<PersonId>, f64>,
    /// The cost of all material, in minor units.
    pub materials: f64,
}

impl JobWork {
    /// All attended minutes.
    pub fn minutes(&self) -> f64 {
        self.people.values().sum()
    }

    /// The line that would carry unpaid work on a part: an index into [`Self::lines`].
    pub fn carrier(&self, part: &Component, goods: &Goods) -> usize {
        carrier(&self.lines, Some(part), goods)
    }
}

/// Attended minutes, indexed by job.
#[derive(Debug, Default)]
pub struct Timesheet<'a> {
    by_job: BTreeMap<SubjectId, Vec<&'a Attended>>,
}

impl<'a> Timesheet<'a> {
    /// Groups the minutes by job.
    pub fn of(attended: &'a [Attended]) -> Self {
        let mut by_job: BTreeMap<SubjectId, Vec<&Attended>> = BTreeMap::new();
        for one in attended {
            by_job.entry(one.job).or_default().push(one);
        }
        Self { by_job }
    }

    /// The attended minutes of a job.
    pub fn job(&self, job: SubjectId) -> &[&'a Attended] {
        self.by_job.get(&job).map_or(&[], Vec::as_slice)
    }
}

/// Looks up the materials of an operation in the shop's list.
pub type StockOf<'a> = &'a dyn Fn(&str) -> Vec<Stock>;

/// Assigns a job's work to its lines.
pub fn job_work(job: &JobFacts, times: &Timesheet<'_>, stock: StockOf<'_>) -> JobWork {
    let attended = times.job(job.job);
    let mut sorting = Sorting {
        job,
        attended,
        stock,
        lines: paid(job),
    };
    let mut people: BTreeMap<Option<PersonId>, f64> = BTreeMap::new();
    for one in attended {
        *people.entry(one.person).or_default() += one.minutes;
    }
    let operations = operations(job, attended);
    let materials = operations
        .iter()
        .flatten()
        .map(|one| job_cost(job, one, &stock(one)))
        .sum();
    let needed = sorting.sort(&operations);
    JobWork {
        lines: sorting.lines,
        needed,
        people,
        materials,
    }
}

/// The paid lines, each operation once. A line that is free without a reason was agreed at that price.
fn paid(job: &JobFacts) -> Vec<LineWork> {
    let mut lines: Vec<LineWork> = Vec::new();
    if job.unrepaired {
        return lines;
    }
    // On a job that repeats earlier work, only lines with a price: its other prices were not agreed.
    let makes_good = job.complaint.is_some();
    let is_paid = |line: &&LineFact| line.gift.is_none() && (!makes_good || line.price_minor != Minor::ZERO);
    for line in job.lines.iter().filter(is_paid) {
        match lines.iter_mut().find(|known| known.operation == line.operation) {
            Some(known) => {
                known.price += line.price_minor;
                known.both = true;
                known.amount += line.amount();
                known.extra &= is_extra(job, line);
            }
            None => lines.push(LineWork {
                operation: line.operation.clone(),
                both: line.side == Side::Both,
                amount: line.amount(),
                extra: is_extra(job, line),
                price: line.price_minor,
                minutes: 0.0,
                materials: 0.0,
                carried: Effort::default(),
                given: Effort::default(),
                people: Vec::new(),
            }),
        }
    }
    lines
}

/// Whether a line repairs damage that was found inside.
fn is_extra(job: &JobFacts, line: &LineFact) -> bool {
    let found = line
        .damage
        .and_then(|at| job.found.get(usize::try_from(at).ok()?));
    found.is_some_and(|found| found.inside)
}

/// Every operation that was done or took time, each once; `None` for time that belongs to the pair as a whole.
fn operations<'a>(job: &'a JobFacts, attended: &[&'a Attended]) -> Vec<Option<&'a str>> {
    let mut all: Vec<Option<&str>> = Vec::new();
    let done = job.steps.iter().map(|step| Some(step.operation.as_str()));
    let timed = attended.iter().map(|one| one.operation.as_deref());
    for operation in done.chain(timed) {
        if !all.contains(&operation) {
            all.push(operation);
        }
    }
    all
}

/// The part that a line at no charge repaired: that of its damage, otherwise the first part whose usual remedy it is.
fn part_of(job: &JobFacts, line: &LineFact) -> Option<Component> {
    let found = line
        .damage
        .and_then(|at| job.found.get(usize::try_from(at).ok()?));
    let usual = |part: &&Component| {
        let first = conditions(part).first();
        first.is_some_and(|condition| remedies(part, condition).first() == Some(&line.operation.as_str()))
    };
    match found {
        Some(found) => Some(found.part.clone()),
        None => Component::KNOWN.iter().find(usual).cloned(),
    }
}

/// Of the lines that open a part the one with the highest price, otherwise the one with the highest price of all; of
/// equal ones the first. An extra never opened the part it repairs.
fn carrier(lines: &[LineWork], part: Option<&Component>, goods: &Goods) -> usize {
    let opens_it = |line: &LineWork| part.is_some_and(|part| exposes(&line.operation, goods).contains(part));
    let rank = |line: &LineWork| (!line.extra, opens_it(line), line.price);
    let mut best = 0;
    for at in 1..lines.len() {
        if rank(&lines[at]) > rank(&lines[best]) {
            best = at;
        }
    }
    best
}
