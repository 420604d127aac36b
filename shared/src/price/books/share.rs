//! Amounts that are split so that the parts add up again.

use crate::price::facts::JobFacts;
use crate::price::tax;

/// A line's price, without its tax, and that tax.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub(super) struct Net {
    pub(super) minor: i64,
    pub(super) tax: i64,
}

/// Splits an amount in proportion to weights, to the minor unit: what rounding leaves goes to those it was taken from most,
/// the first of two alike. Evenly where no weight is above nothing.
pub(super) fn apportion(minor: i64, weights: &[f64]) -> Vec<i64> {
    let sound = |weight: &f64| if weight.is_finite() { weight.max(0.0) } else { 0.0 };
    let sum: f64 = weights.iter().map(sound).sum();
    let even = 1.0 / weights.len().max(1) as f64;
    let shares: Vec<f64> = weights
        .iter()
        .map(|weight| minor as f64 * if sum > 0.0 { sound(weight) / sum } else { even })
        .collect();
    let mut parts: Vec<i64> = shares.iter().map(|share| share.floor() as i64).collect();
    let given = parts.iter().fold(0i64, |sum, part| sum.saturating_add(*part));
    let mut order: Vec<usize> = (0..parts.len()).collect();
    let lost = |at: &usize| shares[*at] - shares[*at].floor();
    order.sort_by(|a, b| lost(b).total_cmp(&lost(a)));
    let mut left = minor.saturating_sub(given);
    // More than one each only where a float cannot hold the amount.
    let each = left / i64::try_from(parts.len().max(1)).unwrap_or(i64::MAX);
    for at in &order {
        parts[*at] = parts[*at].saturating_add(each);
        left -= each;
    }
    for at in order {
        let step = left.signum();
        parts[at] = parts[at].saturating_add(step);
        left -= step;
    }
    parts
}

/// What each line of each job on one bill is without tax, and its tax.
pub(super) fn taxes(bill: &[&JobFacts]) -> Vec<Vec<Net>> {
    let prices: Vec<Vec<i64>> = bill.iter().map(|job| line_prices(job)).collect();
    let flat: Vec<i64> = prices.iter().flatten().copied().collect();
    let rate = bill.iter().find_map(|job| job.tax);
    let tax = tax::due(
        flat.iter().fold(0, |sum, price| i64::saturating_add(sum, *price)),
        rate,
    )
    .tax
    .unwrap_or(0);
    let weights: Vec<f64> = flat.iter().map(|price| *price as f64).collect();
    let mut shares = apportion(tax, &weights).into_iter();
    let inside = rate.is_some_and(|rate| rate > 0);
    prices
        .into_iter()
        .map(|lines| {
            let net = |price: i64| {
                let tax = shares.next().unwrap_or(0);
                Net {
                    minor: if inside { price - tax } else { price },
                    tax,
                }
            };
            lines.into_iter().map(net).collect()
        })
        .collect()
}

/// What a bill comes to, minor units.
pub(super) fn due(bill: &[&JobFacts]) -> i64 {
    let all = taxes(bill);
    let lines = all.iter().flatten();
    lines.fold(0, |sum, net| {
        sum.saturating_add(net.minor).saturating_add(net.tax)
    })
}

/// What each line of a job is charged at.
fn line_prices(job: &JobFacts) -> Vec<i64> {
    let free = job.complaint.is_some() || job.unrepaired;
    job.lines
        .iter()
        .map(|line| if free { 0 } else { line.price_minor })
        .collect()
}
