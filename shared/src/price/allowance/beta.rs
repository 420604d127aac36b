//! A beta law, as a prior or a posterior.

use serde::{Deserialize, Serialize};
use statrs::function::beta::beta_reg;

use super::Count;

/// Halvings of the whole range: below 1e-30 nothing matters.
const HALVINGS: u32 = 100;

/// A beta law of a rate; both numbers above 0.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Beta {
    /// Like pairs that had the damage.
    pub alpha: f64,
    /// Like pairs that had not.
    pub beta: f64,
}

/// A posterior with what people ask of it.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Posterior {
    /// Like pairs that had the damage.
    pub alpha: f64,
    /// Like pairs that had not.
    pub beta: f64,
    /// Mean rate.
    pub mean: f64,
    /// Its standard deviation.
    pub sd: f64,
    /// One in forty is below.
    pub q025: f64,
    /// Half is below.
    pub q50: f64,
    /// Nine in ten are below.
    pub q90: f64,
    /// All but one in forty are below.
    pub q975: f64,
}

impl Beta {
    /// After some pairs were opened.
    #[must_use]
    pub fn after(self, own: Count) -> Beta {
        Beta {
            alpha: self.alpha + f64::from(own.found),
            beta: self.beta + f64::from(own.opened.saturating_sub(own.found)),
        }
    }

    /// The same mean, weighing no more than so many pairs.
    #[must_use]
    pub fn weighing(self, most: f64) -> Beta {
        let by = (most / self.weight()).min(1.0);
        Beta {
            alpha: self.alpha * by,
            beta: self.beta * by,
        }
    }

    /// How many pairs it weighs.
    pub fn weight(self) -> f64 {
        self.alpha + self.beta
    }

    /// The mean rate: also the chance that the next pair has the damage.
    pub fn mean(self) -> f64 {
        self.alpha / self.weight()
    }

    /// The rate that so large a share is below.
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

    /// What people ask of it.
    pub fn told(self) -> Posterior {
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
