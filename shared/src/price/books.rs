//! What was earned, what was given away, and what had to be made good: per month, operation, construction and person.
//!
//! A job counts on the day it left the shop, with all its minutes and material, so that what it earned and what it took
//! stand in one row. Money that changed hands counts on the day it did. Revenue is without tax; the tax of a ticket is
//! reckoned once on its whole sum, as on its bill, and shared to the minor unit. Amounts are whole minor units and never
//! overflow: sums stop at the greatest.
//!
//! A job that makes good earlier work is in the row of the operation it makes good, under the cause; extras that are paid
//! for on it are in their own rows. A pair that went back as it was earns nothing. Jobs whose clock cannot be right (before 1990 or
//! from 2100 on) are counted, and told apart from the rest.

mod sums;

use std::collections::BTreeMap;

pub use sums::{NoCharge, Redone, Sums};

use super::apportion::apportion;
use super::bill::{self, Net};
use super::minutes::Attended;
use super::records::{JobFacts, TicketFacts};
use super::work::{JobWork, StockOf, Timesheet, job_work};
use crate::log::body::Paid;
use crate::log::entry::{PersonId, SubjectId};
use crate::trade::Construction;

/// The books of a shop.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Books {
    /// By year and month, oldest first.
    pub months: BTreeMap<(i64, i64), Sums>,
    /// By operation.
    pub operations: BTreeMap<String, Sums>,
    /// By construction, as opened, else as guessed; `None` where nobody said.
    pub constructions: BTreeMap<Option<Construction>, Sums>,
    /// By who did the work, in proportion to their minutes; `None` where nobody knows.
    pub people: BTreeMap<Option<PersonId>, Sums>,
    /// Deposits on tickets of which some pair is still in the shop, less what was given back, minor units.
    pub held_minor: i64,
    /// Jobs and payments whose clock cannot be right: in no row.
    pub undated: u32,
}

impl Books {
    /// Reckons the books of these jobs and tickets.
    pub fn of(jobs: &[JobFacts], tickets: &[TicketFacts], attended: &[Attended], stock: StockOf<'_>) -> Self {
        let times = Timesheet::of(attended);
        let mut books = Self::default();
        let mut by_ticket: BTreeMap<Option<SubjectId>, Vec<&JobFacts>> = BTreeMap::new();
        for job in jobs {
            by_ticket.entry(job.ticket).or_default().push(job);
        }
        for (ticket, of_ticket) in &by_ticket {
            // Jobs without a ticket have no bill in common.
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

    /// Enters a job that has left the shop; `nets` are those of its lines, in order.
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

    /// Enters the payments of a ticket, and what it still owes once all its pairs are gone.
    fn money(&mut self, ticket: &TicketFacts, jobs: &[&JobFacts]) {
        let mut paid = 0i64;
        for money in &ticket.money {
            paid = paid.saturating_add(money.minor);
            let Some(month) = money.at.month() else {
                self.undated += 1;
                continue;
            };
            let sums = self.months.entry(month).or_default();
            let sum = match money.what {
                Paid::Deposit => &mut sums.deposits_minor,
                Paid::Refund => &mut sums.refunds_minor,
                _ => &mut sums.balances_minor,
            };
            *sum = sum.saturating_add(money.minor);
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
                let owed = due.saturating_sub(paid).max(0);
                let sums = self.months.entry(month).or_default();
                sums.unpaid_minor = sums.unpaid_minor.saturating_add(owed);
            }
            None => self.held_minor = self.held_minor.saturating_add(paid),
        }
    }
}

/// What each line of each job on one bill is without tax, and its tax.
fn nets_of(jobs: &[&JobFacts]) -> Vec<Vec<Net>> {
    let prices: Vec<i64> = jobs.iter().flat_map(|job| job.charges()).collect();
    let mut all = bill::nets(&prices, rate_of(jobs)).into_iter();
    let of_job = |job: &&JobFacts| all.by_ref().take(job.lines.len()).collect();
    jobs.iter().map(of_job).collect()
}

/// The rate of tax of the bill that these jobs are on.
fn rate_of(jobs: &[&JobFacts]) -> Option<i64> {
    jobs.iter().find_map(|job| job.tax)
}

/// A job's sums, to those who did it.
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
