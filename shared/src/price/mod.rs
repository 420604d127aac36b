//! Money: prices, bills, and the work and material they pay for.
//!
//! - [`currency`], [`tax`], [`materials`]: amounts, the tax of a sum, and the cost of a pair's material.
//! - [`listed`]: what a line of work costs by the price list.
//! - [`bill`]: what a customer is charged, what is due, and what was paid; [`pickup`]: what is due for pairs that leave
//!   together.
//! - [`records`]: what the books keep of one job, derived from its folded state.
//! - [`minutes`]: attended work inferred from everybody's stamps; [`work`] assigns it to the lines it was done for.
//! - [`allowance`], [`lognormal`], [`estimate`], [`choices`]: the rate of hidden damage, the spread of durations, the
//!   cost of a job, and the cost of alternatives per year.
//! - [`job_statistics`], [`profitability`]: statistics of finished jobs, and what a line of the price list takes and
//!   earns.
//! - [`books`]: what was earned, given at no charge, and lost to complaints.
//!
#![doc = include_str!("README.md")]

pub mod allowance;
pub(crate) mod apportion;
pub mod bill;
pub mod books;
pub mod choices;
pub mod currency;
pub(crate) mod dice;
pub mod estimate;
pub mod job_statistics;
pub mod listed;
pub mod lognormal;
pub mod materials;
pub mod minor;
pub mod minutes;
pub mod pickup;
pub mod profitability;
pub(crate) mod quantile;
pub mod records;
pub mod tax;
pub mod work;
