//! How long work takes: lognormal minutes, given by their median and 90th percentile.

use serde::{Deserialize, Serialize};

use super::quantile::quantile;
use crate::trade::formulas::{Field, InvalidField};

/// The 90th percentile of the standard normal distribution (from scipy 1.17, `norm.ppf(0.9)`).
pub(crate) const Z90: f64 = 1.281_551_565_544_600_4;

const P50: Field = Field::number("p50", "minutes, half take no longer", 0.0, 100_000.0);
const P90: Field = Field::number(
    "p90",
    "minutes, one in ten takes longer; no less than p50",
    0.0,
    100_000.0,
);
/// With so many values or more, quartiles are used instead of sums.
const MANY: usize = 12;
/// The distance between the quartiles of the standard normal distribution (from scipy 1.17, `2 * norm.ppf(0.75)`).
const QUARTERS: f64 = 1.348_979_500_392_163_5;
/// The fewest minutes that count as a duration.
const SHORTEST: f64 = 0.01;

/// Minutes by their median and 90th percentile. Both are 0 for work that takes no time; otherwise both are at least
/// 0.01.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Spread {
    /// The median, in minutes.
    pub p50: f64,
    /// The 90th percentile, in minutes.
    pub p90: f64,
}

impl Spread {
    /// Checks both fields.
    ///
    /// # Errors
    /// The first field that is out of range.
    pub fn check(self) -> Result<Self, InvalidField> {
        P50.check(self.p50)?;
        P90.check(self.p90)?;
        if self.p50 < SHORTEST && (self.p50 != 0.0 || self.p90 != 0.0) {
            return Err(P50.refused());
        }
        if self.p90 < self.p50 {
            return Err(P90.refused());
        }
        Ok(self)
    }

    /// The standard deviation of the logarithm.
    pub fn sigma(self) -> f64 {
        if self.p50 > 0.0 {
            (self.p90 / self.p50).ln() / Z90
        } else {
            0.0
        }
    }

    /// The mean in minutes: median · exp(sigma² / 2).
    pub fn mean(self) -> f64 {
        self.p50 * (self.sigma().powi(2) / 2.0).exp()
    }

    /// The minutes at a standard normal number `z`.
    pub fn at(self, z: f64) -> f64 {
        self.p50 * (self.sigma() * z).exp()
    }
}

/// The median and spread of a duration, learnt from observed minutes.
///
/// The logarithms are taken as normal. The prior counts like so many observed pairs (the conjugate normal-gamma form),
/// so that the estimate does not jump with the first observations.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Learnt {
    /// The mean of the logarithm.
    mu: f64,
    /// The variance of the logarithm.
    variance: f64,
    /// The weight in pairs.
    weight: f64,
}

impl Learnt {
    /// The prior before any observation: it weighs `weight` pairs.
    pub fn prior(spread: Spread, weight: f64) -> Self {
        Self {
            mu: spread.p50.max(SHORTEST).ln(),
            variance: spread.sigma().powi(2),
            weight,
        }
    }

    /// The estimate after these observed minutes; values too short to be durations are ignored.
    #[must_use]
    pub fn after(self, minutes: &[f64]) -> Self {
        let mut logs: Vec<f64> = minutes
            .iter()
            .filter(|minutes| (SHORTEST..=1e5).contains(*minutes))
            .map(|minutes| minutes.ln())
            .collect();
        if logs.is_empty() {
            return self;
        }
        logs.sort_by(f64::total_cmp);
        let n = logs.len() as f64;
        let (mean, deviation) = middle(&logs);
        let spread = n * deviation.powi(2);
        let weight = self.weight + n;
        let between = self.weight * n / weight * (mean - self.mu).powi(2);
        Self {
            mu: (self.weight * self.mu + n * mean) / weight,
            variance: (self.weight * self.variance + spread + between) / weight,
            weight,
        }
    }

    /// The same estimate with a weight of at most so many pairs, as the prior of a narrower group.
    #[must_use]
    pub fn weighing(self, most: f64) -> Self {
        Self {
            weight: self.weight.min(most),
            ..self
        }
    }

    /// The predictive median and 90th percentile of the next duration; they include the uncertainty of the median.
    pub fn next(self) -> Spread {
        let sigma = (self.variance * (1.0 + 1.0 / self.weight)).sqrt();
        let p50 = self.mu.exp();
        Spread {
            p50,
            p90: (p50 * (Z90 * sigma).exp()).clamp(p50, 1e5_f64.max(p50)),
        }
    }
}

/// The centre and deviation of sorted logarithms: of few values by their sums, of many by their quartiles, which a few
/// jobs noted late or at the wrong moment hardly change.
fn middle(logs: &[f64]) -> (f64, f64) {
    if logs.len() >= MANY {
        let quarter = |share| quantile(logs, share);
        return (quarter(0.5), (quarter(0.75) - quarter(0.25)) / QUARTERS);
    }
    let n = logs.len() as f64;
    let mean = logs.iter().sum::<f64>() / n;
    let squares: f64 = logs.iter().map(|log| (log - mean).powi(2)).sum();
    (mean, (squares / n).sqrt())
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// Costs 12 18 25 40 60 15 22 30: logarithms with mean 3.1972085 and deviation 0.5265446 (scipy 1.17, `norm.fit` with n − 1);
    /// median 24.464144, mean 28.101786, 90th percentile 48.038488, closed form.
    #[test]
    fn the_worked_example() {
        let spread = Spread {
            p50: 24.464_144,
            p90: 48.038_488,
        };
        assert!((spread.sigma() - 0.526_544_6).abs() < 1e-6);
        assert!((spread.mean() - 28.101_786).abs() < 1e-5);
        assert!(
            (spread.at(0.841_621_2) - 38.105_537).abs() < 1e-5,
            "the 80th percentile"
        );
    }

    #[test]
    fn work_that_takes_no_time_takes_none() {
        let none = Spread { p50: 0.0, p90: 0.0 }.check().unwrap();
        assert_eq!((none.mean(), none.at(3.0)), (0.0, 0.0));
        let sure = Spread { p50: 20.0, p90: 20.0 };
        assert_eq!((sure.mean(), sure.at(-4.0)), (20.0, 20.0));
        for (p50, p90) in [
            (-1.0, 5.0),
            (5.0, 4.0),
            (0.0, 5.0),
            (f64::NAN, 5.0),
            (5.0, f64::INFINITY),
            (1e-9, 5.0),
        ] {
            assert!(Spread { p50, p90 }.check().is_err(), "{p50} {p90}");
        }
    }

    /// The median of eight costs, as above, once they outweigh the prior.
    #[test]
    fn what_is_seen_often_wins() {
        let costs = [12.0, 18.0, 25.0, 40.0, 60.0, 15.0, 22.0, 30.0];
        let before = Learnt::prior(
            Spread {
                p50: 100.0,
                p90: 120.0,
            },
            5.0,
        );
        let few = before.after(&costs).next();
        assert!(few.p50 > 24.5 && few.p50 < 100.0, "{few:?}");
    }

    /// 4,000 draws from a known distribution, of which one in twenty is noted late and so three times as long: the
    /// estimate is near that distribution, a little wide.
    #[test]
    fn a_few_that_were_noted_late_move_little() {
        let law = Spread { p50: 24.0, p90: 40.0 };
        let mut dice = crate::price::dice::Dice::new(3);
        let mut draw = || law.at(dice.normal()) * if dice.unit() < 0.05 { 3.0 } else { 1.0 };
        let seen: Vec<f64> = (0..4_000).map(|_| draw()).collect();
        let next = Learnt::prior(
            Spread {
                p50: 100.0,
                p90: 120.0,
            },
            5.0,
        )
        .after(&seen)
        .next();
        assert!((next.p50 / 24.0 - 1.0).abs() < 0.06, "{next:?}");
        assert!(next.p90 > 39.0 && next.p90 < 45.0, "{next:?}");
    }

    proptest! {
        #[test]
        fn what_is_learnt_can_be_reckoned_with(minutes in prop::collection::vec(prop::num::f64::ANY, 0..20), p50 in 0.01..500.0f64, by in 1.0..5.0f64) {
            let next = Learnt::prior(Spread { p50, p90: p50 * by }, 5.0).after(&minutes).next();
            prop_assert!(next.check().is_ok(), "{next:?}");
            prop_assert!(next.mean().is_finite());
        }
    }
}
