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
//! - Goods sold over the counter are charged at their price ([`goods`]).
//! - Tax is calculated once, on the whole sum of a ticket ([`tax::due`]), and shared among its lines to the minor unit.
//! - What is due for some of a ticket's pairs is decided in [`pickup`](super::pickup), from this bill.
//! - A negative price of work is a discount. A price beyond 100 million whole units, which only a mistake or a faulty
//!   app writes, counts as 0, and so does a negative price of goods or a negative payment.

use super::apportion::apportion;
use super::minor::Minor;
use super::tax::{self, Due};
use crate::log::body::{Agreed, Paid, Payment, Sold};
use crate::log::fold::{JobState, TicketState, bench};

/// The greatest price of a line: 100 million whole units of a currency with two decimals.
const GREATEST: Minor = Minor(10_000_000_000);

/// The total of a ticket and what has been paid on it, in minor units.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Bill {
    /// The agreed rate of tax, as in [`TAX`](crate::log::body::field::TAX).
    pub rate: Option<i64>,
    /// The price of everything on it, with its tax.
    pub total: Due,
    /// The payments so far, less refunds.
    pub paid: Minor,
}

impl Bill {
    /// The bill of a ticket with these jobs.
    pub fn of<'a>(ticket: &TicketState, jobs: impl IntoIterator<Item = &'a JobState>) -> Self {
        let rate = ticket.tax();
        let sold = ticket.sold.iter().map(|item| goods(&item.body));
        let prices = jobs.into_iter().map(price).chain(sold);
        let paid = ticket.payments.iter().map(|item| paid(&item.body));
        Self {
            rate,
            total: due(prices, rate),
            paid: paid.sum(),
        }
    }

    /// What is still due; negative if money is to be given back.
    pub fn left(&self) -> Minor {
        self.total.minor - self.paid
    }
}

/// The agreed work of a job that the customer is charged for.
pub fn charged(job: &JobState) -> impl Iterator<Item = &Agreed> {
    let nothing = bench::goes_back_unrepaired(job);
    let lines = bench::kept(job).filter(move |_| !nothing);
    lines.map(|line| &line.body)
}

/// The price of a job, before any tax that is added.
pub fn price(job: &JobState) -> Minor {
    charged(job).map(|line| plausible(line.price_minor)).sum()
}

/// The price of goods sold over the counter, before any tax that is added; 0 for a negative or implausible amount.
pub fn goods(sold: &Sold) -> Minor {
    plausible(sold.price_minor).max(Minor::ZERO)
}

/// The amount of a payment as it counts: negative for a refund, 0 for a negative or implausible amount.
pub fn paid(payment: &Payment) -> Minor {
    let minor = payment.minor.max(Minor::ZERO);
    match payment.what {
        Paid::Refund => -minor,
        _ => minor,
    }
}

/// The price of a line as it counts: 0 for an implausible amount.
pub fn plausible(price: Minor) -> Minor {
    if (-GREATEST..=GREATEST).contains(&price) {
        price
    } else {
        Minor::ZERO
    }
}

/// The total of these prices on one bill, under its rate of tax: at drop-off from the prices that are typed, afterwards
/// from those that are agreed.
pub fn due(prices: impl Iterator<Item = Minor>, rate: Option<i64>) -> Due {
    tax::due(prices.sum(), rate)
}

/// A line's price without its tax, and its tax, in minor units.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Net {
    /// Without tax.
    pub minor: Minor,
    /// The tax that is included in the price or added to it.
    pub tax: Minor,
}

/// Shares the tax of one bill among its lines: for each of these prices, the price without tax and its tax.
pub fn nets(prices: &[Minor], rate: Option<i64>) -> Vec<Net> {
    let tax = due(prices.iter().copied(), rate).tax.unwrap_or_default();
    // Discounts carry no tax, unless the bill has nothing else.
    let sign = if prices.iter().any(|price| price.is_positive()) {
        1.0
    } else {
        -1.0
    };
    let weights: Vec<f64> = prices.iter().map(|price| sign * price.as_f64()).collect();
    let inside = rate.is_some_and(|rate| rate > 0);
    let net = |(price, tax): (&Minor, Minor)| Net {
        minor: if inside { *price - tax } else { *price },
        tax,
    };
    prices.iter().zip(apportion(tax, &weights)).map(net).collect()
}
