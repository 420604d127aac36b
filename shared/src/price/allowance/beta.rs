//! Beta distributions, as priors and posteriors of a rate.

use serde::{Deserialize, Serialize};
use statrs::function::beta::beta_reg;

use super::Count;

/// The number of bisections of the range from 0 to 1: a width below 1e-30 is exact enough.
const HALVINGS: u32 = 100;

/// A beta distribution of a rate; both parameters are above 0.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Beta {
    /// The weight of damaged pairs.
    pub alpha: f64,
    /// The weight of sound pairs.
    pub beta: f64,
}

/// A posterior with its mean and quantiles.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Posterior {
    /// The weight of damaged pairs.
    pub alpha: f64,
    /// The weight of sound pairs.
    pub beta: f64,
    /// The mean rate.
    pub mean: f64,
    /// Its standard deviation.
    pub sd: f64,
    /// The 2.5 % quantile.
    pub q025: f64,
    /// The median.
    pub q50: f64,
    /// The 90 % quantile.
    pub q90: f64,
    /// The 97.5 % quantile.
    pub q975: f64,
}

impl Beta {
    /// The posterior after these counts.
    #[must_use]
    pub fn after(self, own: Count) -> Beta {
        Beta {
            alpha: self.alpha + f64::from(own.found),
            beta: self.beta + f64::from(own.opened.saturating_sub(own.found)),
        }
    }

    /// The same mean with a weight of at most so many pairs.
    #[must_use]
    pub fn weighing(self, most: f64) -> Beta {
        let by = (most / self.weight()).min(1.0);
        Beta {
            alpha: self.alpha * by,
            beta: self.beta * by,
        }
    }

    /// The weight in pairs, α + β.
    pub fn weight(self) -> f64 {
        self.alpha + self.beta
    }

    /// The mean rate, which is also the probability that the next pair has the damage.
    pub fn mean(self) -> f64 {
        self.alpha / self.weight()
    }

    /// The quantile of this share, from 0 to 1.
    pub fn quantile(self, share: f64) -> f64 {
        let (mut low, mut high) = (0.0f64, 1.0f64);
        for _ in 0..HALVINGS {
            let middle = f64::midpoint(low, high);
            if beta_reg(self.alpha, self.beta, middle) < share {
                low = middle;
            } else {
                high = middle;
            }
        }
        f64::midpoint(low, high)
    }

    /// The distribution with its mean and quantiles.
    pub fn posterior(self) -> Posterior {
        let (weight, mean) = (self.weight(), self.mean());
        Posterior {
            alpha: self.alpha,
            beta: self.beta,
            mean,
            sd: (mean * (1.0 - mean) / (weight + 1.0)).sqrt(),
            q025: self.quantile(0.025),
            q50: self.quantile(0.5),
            q90: self.quantile(0.9),
            q975: self.quantile(0.975),
        }
    }
}
