//! Random durations from a lognormal distribution with a given median and ninetieth percentile.
//!
//! Only sums, products, quotients and square roots are used, which are the same to the last bit on every machine.

use super::random_series::RandomSeries;

/// The ninetieth percentile of the standard normal distribution (from memory).
const Z90: f64 = 1.281_551_565_544_6;

/// A duration in minutes; at least 1 if the median is at least 1.
pub(super) fn draw(median: u32, p90: u32, random: &mut RandomSeries) -> u32 {
    if p90 <= median || median == 0 {
        return median;
    }
    let spread = ln(f64::from(p90) / f64::from(median)) / Z90;
    let minutes = f64::from(median) * exp(spread * normal(random));
    minutes.round().clamp(1.0, f64::from(p90) * 20.0) as u32
}

/// A number with nearly the standard normal distribution: twelve uniform numbers added up, which have its mean and
/// variance.
fn normal(random: &mut RandomSeries) -> f64 {
    let sum: f64 = (0..12).map(|_| random.unit()).sum();
    sum - 6.0
}

/// The natural logarithm of a number of at least 1: that of its 64th root, by the series of the inverse hyperbolic
/// tangent.
fn ln(number: f64) -> f64 {
    let root = (0..6).fold(number, |root: f64, _| root.sqrt());
    let y = (root - 1.0) / (root + 1.0);
    let series = (0..12)
        .rev()
        .fold(0.0, |sum, term| sum * y * y + 1.0 / f64::from(2 * term + 1));
    128.0 * y * series
}

/// The exponential function: the 64th power of that of a 64th of the argument, by its series.
fn exp(number: f64) -> f64 {
    let x = number / 64.0;
    let series = (1..=12)
        .rev()
        .fold(1.0, |sum, term| 1.0 + sum * x / f64::from(term));
    (0..6).fold(series, |power, _| power * power)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn logarithm_and_exponential_are_those_of_the_library() {
        for number in [1.0, 1.1, 2.0, 3.7, 50.0, 1e4] {
            assert!((ln(number) - f64::ln(number)).abs() < 1e-12, "{number}");
        }
        for number in [-6.0, -0.3, 0.0, 0.1, 2.5, 6.0] {
            assert!((exp(number) / f64::exp(number) - 1.0).abs() < 1e-12, "{number}");
        }
    }

    /// Half of the draws stay below the median and nine of ten below the percentile, apart from rounding and the
    /// approximations.
    #[test]
    fn percentiles_are_kept() {
        let mut random = RandomSeries::of(1);
        let drawn: Vec<u32> = (0..20_000).map(|_| draw(400, 700, &mut random)).collect();
        let below = |most: u32| drawn.iter().filter(|minutes| **minutes <= most).count() as f64 / 20_000.0;
        assert!((below(400) - 0.5).abs() < 0.015 && (below(700) - 0.9).abs() < 0.01);
    }
}
