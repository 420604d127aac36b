//! The books: what was earned, what was given at no charge, and what complaints cost, by month, operation, construction
//! and person.
//!
//! A job counts on the day it left the shop, with all its minutes and material, so that its revenue and its cost are in
//! the same row. A payment counts on the day it was made. Revenue is without tax; the tax of a ticket is calculated
//! once on its whole sum, as on its bill, and shared to the minor unit. Amounts are whole minor units and never
//! overflow: sums stop at the greatest amount.
//!
//! Goods sold over the counter count on the day they were sold. They are in a row of their own among the operations
//! ([`GOODS_SOLD`]), in that of an unknown construction, and in that of the person who sold them.
//!
//! A job that repeats work because of a complaint is in the row of the operation it repeats, under the cause of the
//! complaint; extras that are paid for on it are in their own rows. A pair that went back as it was earns nothing. Jobs
//! with an implausible clock (before 1990 or from 2100 on) are counted in [`Books::undated`] only.

mod booked;
mod sums;

use std::collections::BTreeMap;

pub use sums::{NoCharge, Redone, Sums};

use super::apportion::apportion;
use super::bill::Net;
use super::minutes::Attended;
use super::records::{At, JobFacts, SoldGoods, TicketFacts};
use super::work::{JobWork, StockOf, Timesheet, job_work};
use crate::log::body::{OperationCode, Paid};
use crate::log::entry::PersonId;
use crate::price::minor::Minor;
use crate::trade::Construction;
use booked::BookedBill;

/// The row of goods sold over the counter among those of operations; it is no operation of the trade.
pub const GOODS_SOLD: &str = "goods_sold";

/// The books of a shop.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Books {
    /// By year and month, earliest first.
    pub months: BTreeMap<(i64, i64), Sums>,
    /// By operation; goods sold over the counter under [`GOODS_SOLD`].
    pub operations: BTreeMap<OperationCode, Sums>,
    /// By construction, as found on opening or otherwise as guessed; `None` where it is not known.
    pub constructions: BTreeMap<Option<Construction>, Sums>,
    /// By the person who did the work, in proportion to their minutes; `None` where the person is not known.
    pub people: BTreeMap<Option<PersonId>, Sums>,
    /// What is paid on tickets with a pair that is still in the shop, less refunds and the price of what has left, in
    /// minor units.
    pub held: Minor,
    /// Jobs, goods and payments with an implausible clock, which are in no row.
    pub undated: u32,
}

impl Books {
    /// The books of these jobs and tickets.
    pub fn of(jobs: &[JobFacts], tickets: &[TicketFacts], attended: &[Attended], stock: StockOf<'_>) -> Self {
        Self::within(jobs, tickets, attended, stock, &|_| true)
    }

    /// The same, with only what belongs into a month that `counts` accepts. The tax is still that of whole bills, so that
    /// the months add up.
    pub fn within(
        jobs: &[JobFacts],
        tickets: &[TicketFacts],
        attended: &[Attended],
        stock: StockOf<'_>,
        counts: &dyn Fn((i64, i64)) -> bool,
    ) -> Self {
        let times = Timesheet::of(attended);
        let mut books = Self::default();
        for bill in BookedBill::all(jobs, tickets) {
            let (of_jobs, of_goods) = bill.nets();
            for (job, nets) in bill.jobs.iter().zip(of_jobs) {
                let left = job.handed_over_at.and_then(|at| books.month_of(at));
                if let Some(month) = left.filter(|month| counts(*month)) {
                    books.job(month, job, &nets, &job_work(job, &times, stock));
                }
            }
            for (sold, net) in bill.sold().iter().zip(of_goods) {
                if let Some(month) = books.month_of(sold.at).filter(|month| counts(*month)) {
                    books.goods(month, sold, net);
                }
            }
            if let Some(ticket) = bill.ticket {
                books.money(ticket, &bill, counts);
            }
        }
        books
    }

    /// The month of a moment; one with an implausible clock is counted, and has none.
    fn month_of(&mut self, at: At) -> Option<(i64, i64)> {
        let month = at.month();
        self.undated += u32::from(month.is_none());
        month
    }

    /// Enters a job that has left the shop; `nets` are those of its lines, in the same order.
    fn job(&mut self, month: (i64, i64), job: &JobFacts, nets: &[Net], work: &JobWork) {
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

    /// Enters goods that were sold over the counter.
    fn goods(&mut self, month: (i64, i64), sold: &SoldGoods, net: Net) {
        let sums = Sums::of_goods(net);
        self.months.entry(month).or_default().add(&sums);
        self.operations.entry(GOODS_SOLD.into()).or_default().add(&sums);
        self.constructions.entry(None).or_default().add(&sums);
        self.people.entry(sold.person).or_default().add(&sums);
    }

    /// Enters the payments of a ticket, and what is unpaid on it once all its pairs have left.
    fn money(&mut self, ticket: &TicketFacts, bill: &BookedBill<'_>, counts: &dyn Fn((i64, i64)) -> bool) {
        let mut paid = Minor::ZERO;
        for money in &ticket.money {
            paid += money.minor;
            let Some(month) = self.month_of(money.at).filter(|month| counts(*month)) else {
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
        let charged = bill.charged_for_what_has_left();
        match bill.left_in() {
            Some(month) if counts(month) => {
                let owed = (charged - paid).max(Minor::ZERO);
                self.months.entry(month).or_default().unpaid += owed;
            }
            Some(_) => {}
            // What is paid counts first for what has left.
            None => self.held += (paid - charged).max(Minor::ZERO),
        }
    }
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
