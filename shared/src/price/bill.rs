//! The bill: what a customer is charged, what is due, what was paid, and the tax.
//!
//! Pickup, the care card, the paper, the summaries and the books all use this module, so that they agree to the minor
//! unit:
//!
//! - Agreed work that was not skipped is charged at its price. That also holds for a job that repeats earlier work
//!   because of a complaint: the repeated work is on it at no charge, and an extra that the customer pays for is
//!   charged.
//! - A pair that goes back as it was is charged nothing. Once it is handed over, the hand-over decides; until then the
//!   customer's answer does ([`bench::goes_back_unrepaired`]).
//! - Tax is calculated once, on the whole sum of a ticket ([`tax::due`]), and shared among its lines to the minor unit.
//! - A negative price is a discount. A price beyond 100 million whole units, which only a mistake or a faulty app
//!   writes, counts as 0, and so does a negative payment.

use super::apportion::apportion;
use super::tax::{self, Due};
use crate::log::body::{Agreed, Paid, Payment};
use crate::log::fold::{JobState, TicketState, bench};

/// The greatest price of a line, in minor units: 100 million whole units.
const GREATEST_MINOR: i64 = 10_000_000_000;

/// The total of a ticket and what has been paid on it, in minor units.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Bill {
    /// The agreed rate of tax, as in [`TAX`](crate::log::body::field::TAX).
    pub rate: Option<i64>,
    /// The price of everything on it, with its tax.
    pub total: Due,
    /// The payments so far, less refunds.
    pub paid_minor: i64,
}

impl Bill {
    /// The bill of a ticket with these jobs.
    pub fn of<'a>(ticket: &TicketState, jobs: impl IntoIterator<Item = &'a JobState>) -> Self {
        let rate = ticket.tax();
        let prices = jobs.into_iter().map(price_minor);
        let paid = ticket.payments.iter().map(|item| paid_minor(&item.body));
        Self {
            rate,
            total: due(prices, rate),
            paid_minor: sum(paid),
        }
    }

    /// What is still due; negative if money is to be given back.
    pub fn left_minor(&self) -> i64 {
        self.total.minor.saturating_sub(self.paid_minor)
    }
}

/// The agreed work of a job that the customer is charged for.
pub fn charged(job: &JobState) -> impl Iterator<Item = &Agreed> {
    let nothing = bench::goes_back_unrepaired(job);
    let lines = bench::agreed(job).filter(move |_| !nothing);
    let lines = lines.filter(|line| !bench::is_skipped(job, &line.body.operation));
    lines.map(|line| &line.body)
}

/// The price of a job, before any tax that is added.
pub fn price_minor(job: &JobState) -> i64 {
    sum(charged(job).map(|line| sound_minor(line.price_minor)))
}

/// The amount of a payment as it counts: negative for a refund, 0 for a negative or implausible amount.
pub fn paid_minor(payment: &Payment) -> i64 {
    let minor = payment.minor.max(0);
    match payment.what {
        Paid::Refund => -minor,
        _ => minor,
    }
}

/// The price of a line as it counts: 0 for an implausible amount.
pub fn sound_minor(price_minor: i64) -> i64 {
    if (-GREATEST_MINOR..=GREATEST_MINOR).contains(&price_minor) {
        price_minor
    } else {
        0
    }
}

/// The total of these prices on one bill, under its rate of tax.
pub fn due(prices: impl Iterator<Item = i64>, rate: Option<i64>) -> Due {
    tax::due(sum(prices), rate)
}

/// A line's price without its tax, and its tax, in minor units.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Net {
    /// Without tax.
    pub minor: i64,
    /// The tax that is included in the price or added to it.
    pub tax: i64,
}

/// Shares the tax of one bill among its lines: for each of these prices, the price without tax and its tax.
pub fn nets(prices: &[i64], rate: Option<i64>) -> Vec<Net> {
    let tax = due(prices.iter().copied(), rate).tax.unwrap_or(0);
    // Discounts carry no tax, unless the bill has nothing else.
    let sign = if prices.iter().any(|price| *price > 0) {
        1.0
    } else {
        -1.0
    };
    let weights: Vec<f64> = prices.iter().map(|price| sign * *price as f64).collect();
    let inside = rate.is_some_and(|rate| rate > 0);
    let net = |(price, tax): (&i64, i64)| Net {
        minor: if inside { price - tax } else { *price },
        tax,
    };
    prices.iter().zip(apportion(tax, &weights)).map(net).collect()
}

fn sum(amounts: impl Iterator<Item = i64>) -> i64 {
    amounts.fold(0, i64::saturating_add)
}
