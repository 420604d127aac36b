//! A Weibull distribution of the life, by maximum likelihood, from exact times of failure and from times at which parts
//! had not failed.
//!
//! The share that survives t is exp(−(t / scale)^shape). The shape solves one equation whose left side rises with it
//! (the profile likelihood), so bisection finds it; the scale then follows in closed form. The mean uses the gamma
//! function of `statrs`.

use serde::{Deserialize, Serialize};
use statrs::function::gamma::gamma;

use super::times;
use crate::trade::formulas::calculation::gives;
use crate::trade::formulas::{AnswerField, Calculation, Field, InvalidField};

/// Shapes outside this range do not describe wear.
pub(super) const SHAPES: (f64, f64) = (0.01, 1e4);
/// The number of bisections: more than the bits of a float.
const HALVINGS: usize = 200;

const FAILURES: Field = Field::new(
    "failures",
    "any unit; not all at the longest time of all",
    times(1),
);
const CENSORED: Field = Field::new("censored", "the same unit; [] for none", times(0));

/// Times of failure, and times at which parts had not failed.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Censored {
    /// Times of failure.
    pub failures: Vec<f64>,
    /// Times at which other parts had not failed.
    pub censored: Vec<f64>,
}

/// A fitted Weibull distribution, in the unit of the times.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Law {
    /// The time that exp(−1), about 37 %, of the parts survive.
    pub scale: f64,
    /// The shape: above 1 the rate of failure rises with age (parts wear out), below 1 it falls.
    pub shape: f64,
    /// The natural logarithm of the likelihood.
    pub log_likelihood: f64,
    /// Mean life.
    pub mean: f64,
    /// The time by which half have failed.
    pub median: f64,
    /// The time by which one in ten has failed.
    pub b10: f64,
}

/// The fields of a fitted distribution as an answer.
pub(super) const LAW: &[AnswerField] = gives![
    "scale" "unit of the times", "shape" "above 1 it wears out", "log_likelihood" "natural logarithm",
    "mean" "unit of the times", "median" "unit of the times", "b10" "unit of the times, one in ten failed",
];

impl Law {
    /// The distribution with this scale and shape, whose likelihood is known.
    pub(super) fn new(scale: f64, shape: f64, log_likelihood: f64) -> Self {
        let law = Self {
            scale,
            shape,
            log_likelihood,
            mean: scale * gamma(1.0 + shape.recip()),
            median: 0.0,
            b10: 0.0,
        };
        Self {
            median: law.failed(0.5),
            b10: law.failed(0.1),
            ..law
        }
    }

    /// The time by which a share of the parts has failed; the share is at least 0 and below 1.
    pub fn failed(&self, share: f64) -> f64 {
        self.failed_after(0.0, share)
    }

    /// The time by which a share has failed of the parts that had not failed at the time `held`.
    pub fn failed_after(&self, held: f64, share: f64) -> f64 {
        let gone = (held.max(0.0) / self.scale).powf(self.shape);
        let more = -(-share.clamp(0.0, 1.0 - 1e-12)).ln_1p();
        self.scale * (gone + more).powf(self.shape.recip())
    }
}

/// An error for data whose likelihood has no maximum.
pub(super) fn no_best(field: &Field) -> InvalidField {
    field.refused_as(format!("times that some law fits best, not all alike: {field}"))
}

impl Censored {
    /// The logarithms of all times as shares of the longest one, so that no power overflows.
    fn logs(&self, longest: f64) -> Vec<f64> {
        let all = self.failures.iter().chain(&self.censored);
        all.map(|time| (time / longest).ln()).collect()
    }

    fn likelihood(&self, scale: f64, shape: f64) -> f64 {
        let gone = |time: &f64| (time / scale).powf(shape);
        let hazard = |time: &f64| (shape / scale).ln() + (shape - 1.0) * (time / scale).ln();
        let failed: f64 = self.failures.iter().map(|time| hazard(time) - gone(time)).sum();
        failed - self.censored.iter().map(gone).sum::<f64>()
    }
}

impl Calculation for Censored {
    const NAME: &'static str = "weibull";
    const TAKES: &'static [Field] = &[FAILURES, CENSORED];
    const GIVES: &'static [AnswerField] = LAW;
    type Answer = Law;

    fn calculate(&self) -> Result<Law, InvalidField> {
        let failures = FAILURES.check_list(&self.failures)?;
        let longest = failures
            .iter()
            .chain(CENSORED.check_list(&self.censored)?)
            .fold(0.0, |most: f64, time| most.max(*time));
        let count = failures.len() as f64;
        let logs = self.logs(longest);
        let mean_log = logs[..failures.len()].iter().sum::<f64>() / count;
        let slope = |shape: f64| {
            let weigh = |log: &f64| (shape * log).exp();
            let (mass, moment) = logs.iter().fold((0.0, 0.0), |(mass, moment), log| {
                (mass + weigh(log), moment + weigh(log) * log)
            });
            moment / mass - shape.recip() - mean_log
        };
        let shape = root(slope).ok_or_else(|| no_best(&FAILURES))?;
        let mass: f64 = logs.iter().map(|log| (shape * log).exp()).sum();
        let scale = longest * (mass / count).powf(shape.recip());
        Ok(Law::new(scale, shape, self.likelihood(scale, shape)))
    }
}

/// The shape at which a rising function is 0, by bisection on the logarithm; `None` if it is outside [`SHAPES`].
fn root(rising: impl Fn(f64) -> f64) -> Option<f64> {
    let (mut low, mut high) = SHAPES;
    if rising(low) > 0.0 || rising(high) <= 0.0 {
        return None;
    }
    for _ in 0..HALVINGS {
        let middle = f64::sqrt(low * high);
        if rising(middle) > 0.0 {
            high = middle;
        } else {
            low = middle;
        }
    }
    Some(f64::sqrt(low * high))
}

#[cfg(test)]
mod tests {
    use super::super::kaplan_meier::tests::{PLACEBO, SIX_MP, SIX_MP_LATER};
    use super::*;
    use proptest::prelude::*;

    fn law(failures: &[f64], censored: &[f64]) -> Law {
        let times = Censored {
            failures: failures.to_vec(),
            censored: censored.to_vec(),
        };
        times.calculate().unwrap()
    }

    fn close(got: f64, expected: f64, within: f64) {
        assert!((got - expected).abs() < within, "{got} {expected}");
    }

    /// NIST/SEMATECH e-Handbook of Statistical Methods, 8.4.1.3, published to four decimals; the further digits are those on
    /// which lifelines, reliability, surpyval and scipy agree.
    #[test]
    fn the_handbook_example() {
        let failures = [
            54.0, 187.0, 216.0, 240.0, 244.0, 335.0, 361.0, 373.0, 375.0, 386.0,
        ];
        let got = law(&failures, &[500.0; 10]);
        close(got.scale, 606.527_558_0, 5e-6);
        close(got.shape, 1.720_797_3, 5e-7);
        close(got.log_likelihood, -75.134_618_2, 5e-7);
        close(got.mean, 540.737, 5e-3);
        close(got.median, 490.173_78, 5e-5);
        close(got.b10, 164.022_44, 5e-5);
    }

    /// Freireich et al. (1963), Blood 21, 699; values by lifelines and scipy.
    #[test]
    fn the_published_trial() {
        for (failures, censored, scale, shape, likelihood) in [
            (&SIX_MP[..], &SIX_MP_LATER[..], 33.765_151, 1.353_735, -41.658_678),
            (&PLACEBO[..], &[][..], 9.482_141, 1.370_500, -64.920_108),
        ] {
            let got = law(failures, censored);
            close(got.scale, scale, 1e-6);
            close(got.shape, shape, 1e-6);
            close(got.log_likelihood, likelihood, 1e-6);
        }
    }

    #[test]
    fn times_that_no_law_fits_best_are_refused() {
        for (failures, censored) in [
            (vec![], vec![5.0]),
            (vec![5.0, 5.0], vec![]),
            (vec![5.0], vec![5.0, 4.0]),
            (vec![0.0, 5.0], vec![]),
        ] {
            let refused = Censored { failures, censored }.calculate().unwrap_err();
            assert_eq!(refused.field, "failures");
        }
        assert!(
            law(&[5.0], &[6.0]).shape > 0.0,
            "one failure is enough when another lasted longer"
        );
    }

    proptest! {
        #[test]
        fn another_unit_is_another_scale_and_nothing_else(
            failures in prop::collection::vec(1.0..500.0f64, 3..30), censored in prop::collection::vec(1.0..500.0f64, 0..10),
        ) {
            let by = |factor: f64| {
                let times = |all: &[f64]| all.iter().map(|time| time * factor).collect::<Vec<_>>();
                law(&times(&failures), &times(&censored))
            };
            let (days, years) = (by(1.0), by(1.0 / 365.25));
            prop_assert!((days.shape / years.shape - 1.0).abs() < 1e-7);
            prop_assert!((days.scale / years.scale / 365.25 - 1.0).abs() < 1e-7);
        }

        #[test]
        fn no_law_nearby_is_likelier(
            failures in prop::collection::vec(1.0..500.0f64, 3..30), censored in prop::collection::vec(1.0..500.0f64, 0..10),
            (by, with) in (0.9..1.1f64, 0.9..1.1f64),
        ) {
            let times = Censored { failures, censored };
            let best = times.calculate().unwrap();
            prop_assert!(times.likelihood(best.scale * by, best.shape * with) <= best.log_likelihood + 1e-9);
        }
    }
}
