//! One row of the books.

use std::collections::BTreeMap;

use crate::log::body::{Cause, GiftWhy, OperationCode};
use crate::price::bill::Net;
use crate::price::minor::Minor;
use crate::price::records::JobFacts;
use crate::price::work::{Effort, JobWork};

const MINUTES_IN_HOUR: f64 = 60.0;
/// With fewer minutes than this, an hourly earning is not calculated: the minutes are a slip of the clock.
const LEAST_MINUTES: f64 = 1.0;

/// Work at no charge.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct NoCharge {
    /// Its worth, in minor units.
    pub worth: Minor,
    /// Attended minutes.
    pub minutes: f64,
}

/// Work repeated because of a complaint.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct Redone {
    /// The number of jobs.
    pub jobs: u32,
    /// Attended minutes.
    pub minutes: f64,
    /// The cost of material, in minor units.
    pub materials: Minor,
}

/// A row of the books. Its jobs and minutes can be shares where a job belongs to several rows.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Sums {
    /// Jobs that left the shop; in a row of a person, those the person worked on.
    pub jobs: u32,
    /// The price charged, without tax, in minor units.
    pub revenue: Minor,
    /// How much of that was charged for goods sold over the counter.
    pub goods: Minor,
    /// The tax included in or added to it, in minor units.
    pub tax: Minor,
    /// The cost of material, including scrap, in minor units.
    pub materials: Minor,
    /// All attended minutes.
    pub minutes: f64,
    /// Work at no charge that the agreed work needed.
    pub needed: NoCharge,
    /// Work at no charge that the repairer chose to give.
    pub choice: NoCharge,
    /// Work repeated because of a complaint, by cause; `None` where the cause is not known.
    pub redone: BTreeMap<Option<Cause>, Redone>,
    /// Steps that were made twice before the pair left.
    pub steps_again: u32,
    /// Deposits paid at drop-off, in minor units. This and the next three fields are set in rows of months only.
    pub deposits: Minor,
    /// Balances paid at pickup, in minor units.
    pub balances: Minor,
    /// Refunds, in minor units, negative.
    pub refunds: Minor,
    /// What is unpaid for pairs that have left, in minor units.
    pub unpaid: Minor,
}

impl Sums {
    /// The row of goods sold over the counter.
    pub(super) fn of_goods(net: Net) -> Self {
        Self {
            revenue: net.minor,
            goods: net.minor,
            tax: net.tax,
            ..Self::default()
        }
    }

    /// The earning of an hour of work, without tax, material and goods sold, in minor units; `None` where no minutes are
    /// known.
    pub fn earned_per_hour(&self) -> Option<Minor> {
        let left = self.revenue - self.goods - self.materials;
        (self.minutes >= LEAST_MINUTES)
            .then(|| Minor::rounded(left.as_f64() / (self.minutes / MINUTES_IN_HOUR)))
    }

    /// Adds another row.
    pub fn add(&mut self, other: &Sums) {
        self.jobs += other.jobs;
        self.steps_again += other.steps_again;
        self.minutes += other.minutes;
        for (sum, more) in self.amounts().into_iter().zip(other.clone().amounts()) {
            *sum += *more;
        }
        self.needed.minutes += other.needed.minutes;
        self.choice.minutes += other.choice.minutes;
        for (cause, more) in &other.redone {
            let sum = self.redone.entry(cause.clone()).or_default();
            sum.jobs += more.jobs;
            sum.minutes += more.minutes;
            sum.materials += more.materials;
        }
    }

    fn amounts(&mut self) -> [&mut Minor; 10] {
        [
            &mut self.revenue,
            &mut self.goods,
            &mut self.tax,
            &mut self.materials,
            &mut self.needed.worth,
            &mut self.choice.worth,
            &mut self.deposits,
            &mut self.balances,
            &mut self.refunds,
            &mut self.unpaid,
        ]
    }

    /// Splits a row by weights; whole numbers (jobs, steps) are given to every part.
    pub(super) fn split(&self, weights: &[f64], amounts: &dyn Fn(Minor) -> Vec<Minor>) -> Vec<Sums> {
        let all: f64 = weights.iter().sum();
        let mut parts: Vec<Sums> = weights
            .iter()
            .map(|weight| {
                let mut part = self.clone();
                let share = if all > 0.0 { weight / all } else { 0.0 };
                let minutes = [
                    &mut part.minutes,
                    &mut part.needed.minutes,
                    &mut part.choice.minutes,
                ];
                let redone = part.redone.values_mut().map(|redone| &mut redone.minutes);
                for minutes in minutes.into_iter().chain(redone) {
                    *minutes *= share;
                }
                part
            })
            .collect();
        let mut whole = self.clone();
        for (at, amount) in whole.amounts().into_iter().enumerate() {
            for (part, share) in parts.iter_mut().zip(amounts(*amount)) {
                *part.amounts()[at] = share;
            }
        }
        for (cause, redone) in &self.redone {
            for (part, share) in parts.iter_mut().zip(amounts(redone.materials)) {
                if let Some(redone) = part.redone.get_mut(cause) {
                    redone.materials = share;
                }
            }
        }
        parts
    }
}

/// The row of a whole job.
pub(super) fn of_job(job: &JobFacts, nets: &[Net], work: &JobWork) -> Sums {
    let mut sums = Sums {
        jobs: 1,
        minutes: work.minutes(),
        materials: Minor::rounded(work.materials),
        ..Sums::default()
    };
    for net in nets {
        sums.revenue += net.minor;
        sums.tax += net.tax;
    }
    let again = job.steps.iter().filter(|step| step.redone).count();
    sums.steps_again = u32::try_from(again).unwrap_or(u32::MAX);
    if let Some(complaint) = &job.complaint {
        let redone = Redone {
            jobs: 1,
            minutes: sums.minutes - work.lines.iter().map(|line| line.minutes).sum::<f64>(),
            materials: Minor::rounded(
                work.materials - work.lines.iter().map(|line| line.materials).sum::<f64>(),
            ),
        };
        sums.redone.insert(complaint.cause.clone(), redone);
        return sums;
    }
    for line in &work.lines {
        no_charge(&mut sums.needed, line.carried);
        no_charge(&mut sums.choice, line.given);
    }
    if work.lines.is_empty() {
        for gift in job.lines.iter().filter_map(|line| line.gift.as_ref()) {
            let sum = if gift.why == GiftWhy::Needed {
                &mut sums.needed
            } else {
                &mut sums.choice
            };
            sum.worth += gift.worth_minor;
        }
    }
    sums
}

fn no_charge(sum: &mut NoCharge, effort: Effort) {
    sum.worth += effort.worth;
    sum.minutes += effort.minutes;
}

/// The rows of a job by operation. Work at no charge is in the row of the line that carried it; work repeated because
/// of a complaint is in the row of the operation the complaint concerns.
pub(super) fn by_operation(job: &JobFacts, nets: &[Net], work: &JobWork) -> Vec<(OperationCode, Sums)> {
    let mut rows: Vec<(OperationCode, Sums)> = Vec::new();
    if let Some(complaint) = &job.complaint {
        let mut sums = of_job(job, &[], work);
        for redone in sums.redone.values() {
            (sums.minutes, sums.materials) = (redone.minutes, redone.materials);
        }
        rows.push((complaint.operation.clone(), sums));
    }
    for line in &work.lines {
        let mut sums = Sums {
            jobs: 1,
            minutes: line.minutes + line.carried.minutes + line.given.minutes,
            materials: Minor::rounded(line.materials + line.carried.materials + line.given.materials),
            ..Sums::default()
        };
        no_charge(&mut sums.needed, line.carried);
        no_charge(&mut sums.choice, line.given);
        let again = job
            .steps
            .iter()
            .filter(|step| step.redone && step.operation == line.operation);
        sums.steps_again = u32::try_from(again.count()).unwrap_or(u32::MAX);
        for (net, fact) in nets.iter().zip(&job.lines) {
            if fact.operation == line.operation {
                sums.revenue += net.minor;
                sums.tax += net.tax;
            }
        }
        rows.push((line.operation.clone(), sums));
    }
    rows
}
