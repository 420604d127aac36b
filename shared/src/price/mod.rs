//! Money: prices, bills, and the work and material they pay for.
//!
//! - [`currency`], [`tax`], [`materials`]: amounts, the tax of a sum, and the cost of a pair's material.
//! - [`bill`]: what a customer is charged, what is due, and what was paid.
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
pub mod lognormal;
pub mod materials;
pub mod minutes;
pub mod profitability;
pub(crate) mod quantile;
pub mod records;
pub mod tax;
pub mod work;

/// Reads an amount as people type it, in minor units: `45`, `45.5`, `45,50`. `None` if it is not an amount of at
/// most 10 million with at most two decimals.
pub fn parse_minor(text: &str) -> Option<i64> {
    let text = text.trim();
    let (whole, part) = text.split_once(['.', ',']).unwrap_or((text, ""));
    let digits = |text: &str| text.chars().all(|c| c.is_ascii_digit());
    if whole.is_empty() || whole.len() > 7 || part.len() > 2 || !digits(whole) || !digits(part) {
        return None;
    }
    let cents: i64 = if part.is_empty() {
        0
    } else {
        format!("{part:0<2}").parse().ok()?
    };
    Some(whole.parse::<i64>().ok()? * 100 + cents)
}

/// Writes an amount of minor units with two decimals: `45.50`.
pub fn format_minor(minor: i64) -> String {
    let sign = if minor < 0 { "-" } else { "" };
    let all = minor.unsigned_abs();
    format!("{sign}{}.{:02}", all / 100, all % 100)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn amounts_as_people_type_them() {
        let cases = [
            ("45", Some(4500)),
            ("45.5", Some(4550)),
            (" 45,05 ", Some(4505)),
            ("0", Some(0)),
        ];
        for (text, minor) in cases {
            assert_eq!(parse_minor(text), minor, "{text}");
        }
        for text in ["", "4.5.1", "four", "-3", "1.234", ".5", "99999999"] {
            assert_eq!(parse_minor(text), None, "{text}");
        }
    }

    proptest! {
        #[test]
        fn what_is_written_reads_back(minor in 0i64..1_000_000_000) {
            prop_assert_eq!(parse_minor(&format_minor(minor)), Some(minor));
        }
    }
}
