//! Splits amounts so that the parts add up to the whole.

use crate::price::minor::Minor;
/// Splits an amount in proportion to weights, to the minor unit. The rest left by rounding goes to the parts that lost
/// most by rounding, of equal ones to the first. All parts are equal if no weight is above 0.
pub(crate) fn apportion(minor: Minor, weights: &[f64]) -> Vec<Minor> {
    let sound = |weight: &f64| if weight.is_finite() { weight.max(0.0) } else { 0.0 };
    let sum: f64 = weights.iter().map(sound).sum();
    let even = 1.0 / weights.len().max(1) as f64;
    let shares: Vec<f64> = weights
        .iter()
        .map(|weight| minor.as_f64() * if sum > 0.0 { sound(weight) / sum } else { even })
        .collect();
    let mut parts: Vec<Minor> = shares.iter().map(|share| Minor::rounded(share.floor())).collect();
    let given: Minor = parts.iter().copied().sum();
    let mut order: Vec<usize> = (0..parts.len()).collect();
    let lost = |at: &usize| shares[*at] - shares[*at].floor();
    order.sort_by(|a, b| lost(b).total_cmp(&lost(a)));
    let mut left = (minor - given).0;
    // More than one unit each is left only where a float cannot hold the amount exactly.
    let each = left / i64::try_from(parts.len().max(1)).unwrap_or(i64::MAX);
    for at in &order {
        parts[*at] += Minor(each);
        left -= each;
    }
    for at in order {
        let step = left.signum();
        parts[at] += Minor(step);
        left -= step;
    }
    parts
}
