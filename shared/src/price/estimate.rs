//! The cost of a job, estimated by a simulation with a seed.
//!
//! Each draw is one job. The minutes of every line, and of every hidden damage that is found, are lognormal and
//! independent; a damage is found with the mean of its beta distribution, which is the probability for the next pair.
//! The mean cost is calculated in closed form; the draws give what has no closed form: quantiles of the cost, and how
//! often a price does not cover it.

use serde::{Deserialize, Serialize};

use super::allowance::Beta;
use super::dice::Dice;
use super::lognormal::Spread;
use super::quantile::quantile;
use crate::trade::formulas::calculation::gives;
use crate::trade::formulas::{Allowed, AnswerField, Calculation, Field, InvalidField};

const MINUTES_IN_HOUR: f64 = 60.0;
/// The greatest number of lines, and of kinds of damage, of one job.
const MOST: usize = 200;
const DRAWS: u32 = 10_000;
/// The seed if none is given: the same input has the same result.
const SEED: u64 = 1;

const RATE: Field = Field::number("rate_per_hour", "amount an hour", 0.0, 1e9);
const LINES: Field = Field::new(
    "lines",
    "objects of minutes {p50, p90} (both 0, or 0.01 <= p50 <= p90 <= 100000) and materials (0 to 1e9, as rate_per_hour)",
    Allowed::Described("a list of at most 200 lines"),
);
const HIDDEN: Field = Field::new(
    "hidden",
    "objects of alpha, beta (0.001 to 1e6), minutes {p50, p90} and materials, as of lines; [] for none",
    Allowed::Described("a list of at most 200 kinds of damage"),
);
const PRICE: Field = Field::number("price", "amount", 0.0, 1e12).or_none();
const SEED_FIELD: Field = Field::new(
    "seed",
    "1 if left out",
    Allowed::Described("a whole number from 0 to 2^53"),
)
.or_none();
const DRAWS_FIELD: Field = Field::new("draws", "10000 if left out", Allowed::Whole(1, 1_000_000)).or_none();
const MATERIALS: Field = Field::number("materials", "amount", 0.0, 1e9);
const WEIGHT: (f64, f64) = (1e-3, 1e6);

/// One line of agreed work.
#[derive(Debug, Clone, Copy, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct EstimateLine {
    /// Attended minutes.
    pub minutes: Spread,
    /// The cost of material, in the currency of the hourly rate.
    pub materials: f64,
}

/// One kind of hidden damage.
#[derive(Debug, Clone, Copy, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct HiddenDamage {
    /// The weight of damaged pairs: α of the beta distribution of its rate.
    pub alpha: f64,
    /// The weight of sound pairs: β of the beta distribution of its rate.
    pub beta: f64,
    /// Attended minutes of the repair.
    pub minutes: Spread,
    /// The cost of its material, in the currency of the hourly rate.
    pub materials: f64,
}

/// A job to estimate. All amounts are in the currency of the hourly rate.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct EstimateJob {
    /// What an hour of attended work must earn.
    pub rate_per_hour: f64,
    /// The agreed work.
    pub lines: Vec<EstimateLine>,
    /// Damage that may be found.
    pub hidden: Vec<HiddenDamage>,
    /// The price that is asked for it.
    #[serde(default)]
    pub price: Option<f64>,
    /// The seed of the draws.
    #[serde(default)]
    pub seed: Option<u64>,
    /// The number of draws.
    #[serde(default)]
    pub draws: Option<u32>,
}

/// The estimated cost of a job.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Estimate {
    /// The mean, in closed form.
    pub mean: f64,
    /// The median.
    pub p50: f64,
    /// The 80 % quantile.
    pub p80: f64,
    /// The 95 % quantile.
    pub p95: f64,
    /// The part of the mean that is hidden damage, in closed form.
    pub allowance_mean: f64,
    /// The share of draws that cost more than the price; `None` without a price.
    pub loss_chance: Option<f64>,
    /// The mean of the draws.
    pub drawn_mean: f64,
    /// The standard error of `drawn_mean`.
    pub standard_error: f64,
}

impl EstimateLine {
    fn check(&self) -> Result<(), InvalidField> {
        self.minutes
            .check()
            .map_err(|refused| refused.within("minutes"))?;
        MATERIALS.check(self.materials)?;
        Ok(())
    }
}

impl HiddenDamage {
    fn check(&self) -> Result<(), InvalidField> {
        for (name, value) in [("alpha", self.alpha), ("beta", self.beta)] {
            if !(WEIGHT.0..=WEIGHT.1).contains(&value) {
                return Err(InvalidField::new(name, "a number from 0.001 to 1000000"));
            }
        }
        EstimateLine {
            minutes: self.minutes,
            materials: self.materials,
        }
        .check()
    }

    /// The probability that the next pair has it.
    fn chance(&self) -> f64 {
        Beta {
            alpha: self.alpha,
            beta: self.beta,
        }
        .mean()
    }
}

impl EstimateJob {
    fn check(&self) -> Result<(), InvalidField> {
        RATE.check(self.rate_per_hour)?;
        if self.lines.len() > MOST {
            return Err(LINES.refused());
        }
        if self.hidden.len() > MOST {
            return Err(HIDDEN.refused());
        }
        self.lines
            .iter()
            .try_for_each(EstimateLine::check)
            .map_err(|refused| refused.within(LINES.name))?;
        self.hidden
            .iter()
            .try_for_each(HiddenDamage::check)
            .map_err(|refused| refused.within(HIDDEN.name))?;
        if let Some(price) = self.price {
            PRICE.check(price)?;
        }
        if self.seed.is_some_and(|seed| seed > 1 << 53) {
            return Err(SEED_FIELD.refused());
        }
        if !(1..=1_000_000).contains(&self.draws.unwrap_or(DRAWS)) {
            return Err(DRAWS_FIELD.refused());
        }
        Ok(())
    }

    fn work(&self, minutes: f64) -> f64 {
        minutes / MINUTES_IN_HOUR * self.rate_per_hour
    }

    /// The mean cost of the hidden damage.
    fn allowance(&self) -> f64 {
        let cost = |one: &HiddenDamage| one.chance() * (self.work(one.minutes.mean()) + one.materials);
        self.hidden.iter().map(cost).sum()
    }

    /// The cost of each draw, in ascending order.
    fn draw(&self, draws: u32) -> Vec<f64> {
        let mut dice = Dice::new(self.seed.unwrap_or(SEED));
        let mut one = || {
            let mut cost = 0.0;
            for line in &self.lines {
                cost += self.work(line.minutes.at(dice.normal())) + line.materials;
            }
            for hidden in &self.hidden {
                if dice.unit() < hidden.chance() {
                    cost += self.work(hidden.minutes.at(dice.normal())) + hidden.materials;
                }
            }
            cost
        };
        let mut costs: Vec<f64> = (0..draws).map(|_| one()).collect();
        costs.sort_by(f64::total_cmp);
        costs
    }
}

impl Calculation for EstimateJob {
    const NAME: &'static str = "estimate";
    const TAKES: &'static [Field] = &[RATE, LINES, HIDDEN, PRICE, SEED_FIELD, DRAWS_FIELD];
    const GIVES: &'static [AnswerField] = gives![
        "mean" "amount, closed form", "p50" "amount", "p80" "amount", "p95" "amount",
        "allowance_mean" "amount, what of the mean is hidden damage, closed form",
        "loss_chance" "share of jobs that come to more than price, or null",
        "drawn_mean" "amount, mean of the draws", "standard_error" "amount, of drawn_mean",
    ];
    type Answer = Estimate;

    fn calculate(&self) -> Result<Estimate, InvalidField> {
        self.check()?;
        let draws = self.draws.unwrap_or(DRAWS);
        let costs = self.draw(draws);
        let count = f64::from(draws);
        let drawn_mean = costs.iter().sum::<f64>() / count;
        let spread: f64 = costs.iter().map(|cost| (cost - drawn_mean).powi(2)).sum();
        let allowance_mean = self.allowance();
        let agreed = |line: &EstimateLine| self.work(line.minutes.mean()) + line.materials;
        let above = |price: f64| costs.len() - costs.partition_point(|cost| *cost <= price);
        Ok(Estimate {
            mean: self.lines.iter().map(agreed).sum::<f64>() + allowance_mean,
            p50: quantile(&costs, 0.5),
            p80: quantile(&costs, 0.8),
            p95: quantile(&costs, 0.95),
            allowance_mean,
            loss_chance: self.price.map(|price| above(price) as f64 / count),
            drawn_mean,
            standard_error: (spread / (count - 1.0).max(1.0) / count).sqrt(),
        })
    }
}

#[cfg(test)]
mod tests;
