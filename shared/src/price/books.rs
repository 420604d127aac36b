//! The books: what was earned, what was given at no charge, and what complaints cost, by month, operation, construction
//! and person.
//!
//! A job counts on the day it left the shop, with all its minutes and material, so that its revenue and its cost are in
//! the same row. A payment counts on the day it was made. Revenue is without tax; the tax of a ticket is calculated
//! once on its whole sum, as on its bill, and shared to the minor unit. Amounts are whole minor units and never
//! overflow: sums stop at the greatest amount.
//!
//! A job that repeats work because of a complaint is in the row of the operation it repeats, under the cause of the
//! complaint; extras that are paid for on it are in their own rows. A pair that went back as it was earns nothing. Jobs
//! with an implausible clock (before 1990 or from 2100 on) are counted in [`Books::undated`] only.

mod sums;

use std::collections::BTreeMap;

pub use sums::{NoCharge, Redone, Sums};

use super::apportion::apportion;
use super::bill::{self, Net};
use super::minutes::Attended;
use super::records::{JobFacts, TicketFacts};
use super::work::{JobWork, StockOf, Timesheet, job_work};
use crate::log::body::{OperationCode, Paid};
use crate::log::entry::{PersonId, SubjectId};
use crate::price::minor::Minor;
use crate::trade::Construction;

/// The books of a shop.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Books {
    /// By year and month, earliest first.
    pub months: BTreeMap<(i64, i64), Sums>,
    /// By operation.
    pub operations: BTreeMap<OperationCode, Sums>,
    /// By construction, as found on opening or otherwise as guessed; `None` where it is not known.
    pub constructions: BTreeMap<Option<Construction>, Sums>,
    /// By the person who did the work, in proportion to their minutes; `None` where the person is not known.
    pub people: BTreeMap<Option<PersonId>, Sums>,
    /// Deposits on tickets with a pair that is still in the shop, less refunds, in minor units.
    pub held: Minor,
    /// Jobs and payments with an implausible clock, which are in no row.
    pub undated: u32,
}

impl Books {
    /// The books of these jobs and tickets.
    pub fn of(jobs: &[JobFacts], tickets: &[TicketFacts], attended: &[Attended], stock: StockOf<'_>) -> Self {
        let times = Timesheet::of(attended);
        let mut books = Self::default();
        let mut by_ticket: BTreeMap<Option<SubjectId>, Vec<&JobFacts>> = BTreeMap::new();
        for job in jobs {
            by_ticket.entry(job.ticket).or_default().push(job);
        }
        for (ticket, of_ticket) in &by_ticket {
            // Jobs without a ticket share no bill.
            let bills: Vec<&[&JobFacts]> = match ticket {
                Some(_) => vec![of_ticket.as_slice()],
                None => of_ticket.chunks(1).collect(),
            };
            for bill in bills {
                for (job, nets) in bill.iter().zip(nets_of(bill)) {
                    books.job(job, &nets, &job_work(job, &times, stock));
                }
            }
        }
        for ticket in tickets {
            let on_it = by_ticket.get(&Some(ticket.ticket)).map_or(&[][..], Vec::as_slice);
            books.money(ticket, on_it);
        }
        books
    }

    /// Enters a job that has left the shop; `nets` are those of its lines, in the same order.
    fn job(&mut self, job: &JobFacts, nets: &[Net], work: &JobWork) {
        let Some(at) = job.handed_over_at else { return };
        let Some(month) = at.month() else {
            self.undated += 1;
            return;
        };
        let whole = sums::of_job(job, nets, work);
        self.months.entry(month).or_default().add(&whole);
        let construction = job.opened_as.clone().or_else(|| job.guessed.clone());
        self.constructions.entry(construction).or_default().add(&whole);
        for (operation, sums) in sums::by_operation(job, nets, work) {
            self.operations.entry(operation).or_default().add(&sums);
        }
        for (person, sums) in by_person(&whole, job, work) {
            self.people.entry(person).or_default().add(&sums);
        }
    }

    /// Enters the payments of a ticket, and what is unpaid on it once all its pairs have left.
    fn money(&mut self, ticket: &TicketFacts, jobs: &[&JobFacts]) {
        let mut paid = Minor::ZERO;
        for money in &ticket.money {
            paid += money.minor;
            let Some(month) = money.at.month() else {
                self.undated += 1;
                continue;
            };
            let sums = self.months.entry(month).or_default();
            let sum = match money.what {
                Paid::Deposit => &mut sums.deposits,
                Paid::Refund => &mut sums.refunds,
                _ => &mut sums.balances,
            };
            *sum += money.minor;
        }
        let gone = jobs
            .iter()
            .map(|job| job.handed_over_at.and_then(super::records::At::month));
        let last = gone
            .collect::<Option<Vec<_>>>()
            .and_then(|all| all.into_iter().max());
        match last {
            Some(month) => {
                let prices = jobs.iter().flat_map(|job| job.charges());
                let due = bill::due(prices, rate_of(jobs)).minor;
                let owed = (due - paid).max(Minor::ZERO);
                let sums = self.months.entry(month).or_default();
                sums.unpaid += owed;
            }
            None => self.held += paid,
        }
    }
}

/// For each line of each job on one bill, its price without tax and its tax.
fn nets_of(jobs: &[&JobFacts]) -> Vec<Vec<Net>> {
    let prices: Vec<Minor> = jobs.iter().flat_map(|job| job.charges()).collect();
    let mut all = bill::nets(&prices, rate_of(jobs)).into_iter();
    let of_job = |job: &&JobFacts| all.by_ref().take(job.lines.len()).collect();
    jobs.iter().map(of_job).collect()
}

/// The rate of tax of the bill that these jobs are on.
fn rate_of(jobs: &[&JobFacts]) -> Option<i64> {
    jobs.iter().find_map(|job| job.tax)
}

/// Splits a job's sums among the people who worked on it.
fn by_person(whole: &Sums, job: &JobFacts, work: &JobWork) -> Vec<(Option<PersonId>, Sums)> {
    let mut hands: Vec<(Option<PersonId>, f64)> = work
        .people
        .iter()
        .map(|(person, minutes)| (*person, *minutes))
        .collect();
    if hands.iter().all(|(_, minutes)| *minutes <= 0.0) {
        hands = job.people.iter().map(|person| (Some(*person), 1.0)).collect();
    }
    if hands.is_empty() {
        hands.push((None, 1.0));
    }
    let weights: Vec<f64> = hands.iter().map(|(_, weight)| *weight).collect();
    let parts = whole.split(&weights, &|minor| apportion(minor, &weights));
    hands.into_iter().map(|(person, _)| person).zip(parts).collect()
}

#[cfg(test)]
mod tests;
