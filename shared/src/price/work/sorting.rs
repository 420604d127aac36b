//! Assigns a job's work to its lines.

use super::{Answered, Effort, LineWork, StockOf, carrier, part_of};
use crate::log::body::GiftWhy;
use crate::log::body::OperationCode;
use crate::price::materials::job_cost;
use crate::price::minor::Minor;
use crate::price::minutes::Attended;
use crate::price::records::{JobFacts, LineFact};
use crate::trade::Component;

/// Fewer minutes than this count as none: a button was tapped twice.
const NO_TIME: f64 = 0.25;

/// What the work of one operation belongs to.
enum Belongs {
    To(usize),
    Carried(usize),
    Given(usize),
    ToAll,
    /// The work that the job repeats because of a complaint, which is no line.
    MadeGood,
}

/// A job's work while it is being assigned.
pub(super) struct Sorting<'a> {
    pub(super) job: &'a JobFacts,
    pub(super) attended: &'a [&'a Attended],
    pub(super) stock: StockOf<'a>,
    pub(super) lines: Vec<LineWork>,
}

impl Sorting<'_> {
    /// Assigns the work of each operation. Returns the needed repairs.
    pub(super) fn sort(&mut self, operations: &[Option<&str>]) -> Vec<Answered> {
        if self.lines.is_empty() {
            return Vec::new();
        }
        let mut common: Vec<Option<&str>> = Vec::new();
        for operation in operations {
            match self.belongs(*operation) {
                Belongs::To(at) => {
                    let effort = self.effort(*operation);
                    self.lines[at].minutes += effort.minutes;
                    self.lines[at].materials += effort.materials;
                    self.hands(at, *operation, 1.0);
                }
                Belongs::Carried(at) => {
                    let effort = self.effort(*operation);
                    self.lines[at].carried.add(effort);
                    self.hands(at, *operation, 1.0);
                }
                Belongs::Given(at) => {
                    let effort = self.effort(*operation);
                    self.lines[at].given.add(effort);
                    self.hands(at, *operation, 1.0);
                }
                Belongs::ToAll => common.push(*operation),
                Belongs::MadeGood => {}
            }
        }
        self.share(&common);
        if self.job.complaint.is_some() {
            return Vec::new();
        }
        self.worths();
        self.needed()
    }

    /// Shares the work that belongs to no line.
    fn share(&mut self, common: &[Option<&str>]) {
        let own: f64 = self.lines.iter().map(|line| line.minutes).sum();
        let even = 1.0 / self.lines.len() as f64;
        let shares: Vec<f64> = self
            .lines
            .iter()
            .map(|line| if own > 0.0 { line.minutes / own } else { even })
            .collect();
        for operation in common {
            let effort = self.effort(*operation);
            for (at, share) in shares.iter().enumerate() {
                self.lines[at].minutes += effort.minutes * share;
                self.lines[at].materials += effort.materials * share;
                self.hands(at, *operation, *share);
            }
        }
        for line in &mut self.lines {
            if line.minutes < NO_TIME {
                line.minutes = 0.0;
            }
        }
    }

    /// Adds the worth of the lines at no charge.
    fn worths(&mut self) {
        for line in &self.job.lines {
            let Some(gift) = &line.gift else { continue };
            let at = self.carrier(line);
            let effort = match gift.why {
                GiftWhy::Needed => &mut self.lines[at].carried,
                _ => &mut self.lines[at].given,
            };
            effort.worth += gift.worth_minor;
        }
    }

    fn belongs(&self, operation: Option<&str>) -> Belongs {
        let is_this = |code: &OperationCode| operation == Some(code.as_str());
        if let Some(at) = self.lines.iter().position(|line| is_this(&line.operation)) {
            return Belongs::To(at);
        }
        if self.job.complaint.is_some() {
            return Belongs::MadeGood;
        }
        let gift = self
            .job
            .lines
            .iter()
            .find(|line| line.gift.is_some() && is_this(&line.operation));
        match gift {
            Some(line) if line.given() == Some(&GiftWhy::Needed) => Belongs::Carried(self.carrier(line)),
            Some(line) => Belongs::Given(self.carrier(line)),
            None => Belongs::ToAll,
        }
    }

    fn effort(&self, operation: Option<&str>) -> Effort {
        let timed = self
            .attended
            .iter()
            .filter(|one| one.operation.as_deref() == operation);
        Effort {
            minutes: timed.map(|one| one.minutes).sum(),
            materials: operation.map_or(0.0, |code| job_cost(self.job, code, &(self.stock)(code))),
            worth: Minor::ZERO,
        }
    }

    /// Adds a share of the minutes of an operation to the people who did it.
    fn hands(&mut self, at: usize, operation: Option<&str>, share: f64) {
        for one in self
            .attended
            .iter()
            .filter(|one| one.operation.as_deref() == operation)
        {
            let people = &mut self.lines[at].people;
            match people.iter_mut().find(|(person, _)| *person == one.person) {
                Some((_, minutes)) => *minutes += one.minutes * share,
                None => people.push((one.person, one.minutes * share)),
            }
        }
    }

    /// The line that carries work at no charge.
    fn carrier(&self, line: &LineFact) -> usize {
        carrier(&self.lines, part_of(self.job, line).as_ref(), &self.job.goods)
    }

    /// The needed repairs, each part once.
    fn needed(&self) -> Vec<Answered> {
        let mut all: Vec<Answered> = Vec::new();
        let mut add = |part: Component, minutes: f64| {
            if all.iter().all(|known| known.part != part) {
                let line = carrier(&self.lines, Some(&part), &self.job.goods);
                all.push(Answered { part, line, minutes });
            }
        };
        for (at, found) in self.job.found.iter().enumerate() {
            if self.job.is_needed(at) {
                let index = u32::try_from(at).ok();
                let answers = self.job.lines.iter().filter(|line| line.damage == index);
                add(
                    found.part.clone(),
                    answers
                        .map(|line| self.effort(Some(&line.operation)).minutes)
                        .sum(),
                );
            }
        }
        for line in self.job.lines.iter().filter(|line| line.damage.is_none()) {
            let needed = line.given() == Some(&GiftWhy::Needed);
            if let Some(part) = part_of(self.job, line).filter(|_| needed) {
                add(part, self.effort(Some(&line.operation)).minutes);
            }
        }
        all
    }
}
