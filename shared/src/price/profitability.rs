//! What a line of the price list takes, carries and earns.
//!
//! A price meets the hourly target on a job if what is left of it, after tax and material, is at least the target for
//! every attended hour, including hours that were needed but not paid for. In other words, the price must cover the
//! cost, calculated at the target. The price that does so in four of five jobs is the 80th percentile of that cost,
//! from a simulation with a fixed seed. Work that the repairer gives by choice is shown separately and not included.

use super::estimate::{EstimateJob, EstimateLine, HiddenDamage};
use super::job_statistics::{JobStatistics, StatedRates, timed};
use super::lognormal::Spread;
use super::materials::usual_cost;
use super::tax;
use super::work::StockOf;
use crate::price::minor::Minor;
use crate::trade::formulas::{Calculation, InvalidField};
use crate::trade::{Component, Construction, Goods};

const DRAWS: u32 = 2_000;
/// The seed. Any number would do as long as it stays the same: equal records then give equal prices.
const SEED: u64 = 2_025;
const MINUTES_IN_HOUR: f64 = 60.0;
/// A probability of damage below this is ignored.
const NO_CHANCE: f64 = 1e-3;

/// The settings of the shop.
#[derive(Clone, Copy)]
pub struct Setting<'a> {
    /// What an hour of attended work should earn, without tax, in minor units; `None` where the shop has set no target.
    pub target: Option<Minor>,
    /// The rate of tax, as in [`TAX`](crate::log::body::field::TAX).
    pub tax: Option<i64>,
    /// The list of materials.
    pub stock: StockOf<'a>,
    /// The repairer's own estimates of how often hidden damage is found.
    pub stated_rates: StatedRates<'a>,
}

impl std::fmt::Debug for Setting<'_> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Setting")
            .field("target", &self.target)
            .field("tax", &self.tax)
            .finish()
    }
}

/// What a line of the price list takes, carries and earns.
#[derive(Debug, Clone, PartialEq)]
pub struct Profitability {
    /// The number of jobs it is based on; 0 if it is based on norms only.
    pub jobs: u32,
    /// Attended minutes of its own work.
    pub minutes: Spread,
    /// The cost of its own material for a pair, in minor units.
    pub materials: Minor,
    /// The mean minutes of needed work per job that nobody paid for.
    pub carried_minutes: f64,
    /// The mean worth of that work as it was entered on the jobs, in minor units.
    pub carried_worth: Minor,
    /// The expected worth of that work per job at the hourly target, in minor units; `None` without a target.
    pub allowance: Option<Minor>,
    /// The mean minutes of work per job that was given by choice.
    pub given_minutes: f64,
    /// The mean worth of that work as it was entered, in minor units.
    pub given_worth: Minor,
    /// What an hour earned, without tax and material and with needed work included, in minor units; `None` without
    /// minutes.
    pub earned_per_hour: Option<Minor>,
    /// The price, tax as charged, that meets the target in four of five jobs, in minor units; `None` without a target.
    pub needed: Option<Minor>,
}

/// The price as charged for an amount without tax, rounded up.
fn charged(net: f64, rate: Option<i64>) -> Minor {
    let inside = rate.unwrap_or(0).clamp(0, 1_000);
    // The small subtraction keeps a rounding error of the product from adding a minor unit.
    Minor::rounded((net * (1_000 + inside) as f64 / 1_000.0 - 1e-6).ceil().max(0.0))
}

/// A price without the tax that it includes.
pub(super) fn without_tax(price: Minor, rate: Option<i64>) -> Minor {
    match rate {
        Some(inside) if inside > 0 => price - tax::due(price, rate).tax.unwrap_or_default(),
        _ => price,
    }
}

impl JobStatistics {
    /// The profitability of one line of the price list.
    ///
    /// # Errors
    /// A target that is out of range, or amounts of material that are out of range.
    pub fn profitability(
        &self,
        code: &str,
        goods: &Goods,
        setting: &Setting<'_>,
    ) -> Result<Profitability, InvalidField> {
        let seen: Vec<_> = timed(self.samples(code, goods)).collect();
        let count = seen.len().max(1) as f64;
        let mean = |of: &dyn Fn(&super::work::LineWork) -> f64| {
            seen.iter().map(|one| of(&one.work)).sum::<f64>() / count
        };
        let materials = if seen.is_empty() {
            usual_cost(&(setting.stock)(code))
        } else {
            mean(&|work| work.materials)
        };
        let hours = mean(&|work| work.minutes + work.carried.minutes) / MINUTES_IN_HOUR;
        let left = seen
            .iter()
            .map(|one| {
                without_tax(one.work.price, one.tax).as_f64()
                    - one.work.materials
                    - one.work.carried.materials
            })
            .sum::<f64>()
            / count;
        let estimate = match setting.target {
            Some(target) => Some(
                self.job(
                    &[(code, Minor::ZERO)],
                    &self.guesses(code, goods),
                    goods,
                    setting,
                    target,
                )
                .calculate()?,
            ),
            None => None,
        };
        Ok(Profitability {
            jobs: u32::try_from(seen.len()).unwrap_or(u32::MAX),
            minutes: self.minutes(code, goods),
            materials: Minor::rounded(materials),
            carried_minutes: mean(&|work| work.carried.minutes),
            carried_worth: Minor::rounded(mean(&|work| work.carried.worth.as_f64())),
            allowance: estimate.map(|one| Minor::rounded(one.allowance_mean)),
            given_minutes: mean(&|work| work.given.minutes),
            given_worth: Minor::rounded(mean(&|work| work.given.worth.as_f64())),
            earned_per_hour: (hours > 0.0).then(|| Minor::rounded(left / hours)),
            needed: estimate.map(|one| charged(one.p80, setting.tax)),
        })
    }

    /// The probability, from 0 to 1, that the agreed prices of a job do not meet the target, which Drop-off shows.
    ///
    /// `lines` are operations with their prices as charged, in minor units.
    ///
    /// # Errors
    /// As [`JobStatistics::profitability`].
    pub fn loss_chance(
        &self,
        lines: &[(&str, Minor)],
        guessed: Option<&Construction>,
        goods: &Goods,
        setting: &Setting<'_>,
    ) -> Result<Option<f64>, InvalidField> {
        let Some(target) = setting.target else {
            return Ok(None);
        };
        let price: Minor = lines.iter().map(|(_, price)| *price).sum();
        let job = EstimateJob {
            price: Some(without_tax(price, setting.tax).as_f64()),
            ..self.job(lines, &[(guessed.cloned(), 1.0)], goods, setting, target)
        };
        Ok(job.calculate()?.loss_chance)
    }

    /// A job of these lines, to be estimated at the target rate.
    fn job(
        &self,
        lines: &[(&str, Minor)],
        guesses: &[(Option<Construction>, f64)],
        goods: &Goods,
        setting: &Setting<'_>,
        target: Minor,
    ) -> EstimateJob {
        let line = |(code, _): &(&str, Minor)| EstimateLine {
            minutes: self.minutes(code, goods),
            materials: self.materials(code, goods, setting),
        };
        EstimateJob {
            rate_per_hour: target.as_f64(),
            lines: lines.iter().map(line).collect(),
            hidden: self.chances(lines, guesses, goods, setting),
            price: None,
            seed: Some(SEED),
            draws: Some(DRAWS),
        }
    }

    fn materials(&self, code: &str, goods: &Goods, setting: &Setting<'_>) -> f64 {
        let costs: Vec<f64> = timed(self.samples(code, goods))
            .map(|one| one.work.materials)
            .collect();
        if costs.is_empty() {
            usual_cost(&(setting.stock)(code))
        } else {
            costs.iter().sum::<f64>() / costs.len() as f64
        }
    }

    /// The damage that may be found: each part once, with the greatest probability that any line gives it.
    fn chances(
        &self,
        lines: &[(&str, Minor)],
        guesses: &[(Option<Construction>, f64)],
        goods: &Goods,
        setting: &Setting<'_>,
    ) -> Vec<HiddenDamage> {
        let mut chances: Vec<(Component, f64)> = Vec::new();
        for (code, _) in lines {
            let mut of_line: Vec<(Component, f64)> = Vec::new();
            for (guessed, share) in guesses {
                for (part, rate) in self.hidden(code, guessed.as_ref(), goods, setting.stated_rates) {
                    match of_line.iter_mut().find(|(one, _)| *one == part) {
                        Some((_, chance)) => *chance += share * rate.mean(),
                        None => of_line.push((part, share * rate.mean())),
                    }
                }
            }
            for (part, chance) in of_line {
                match chances.iter_mut().find(|(one, _)| *one == part) {
                    Some((_, known)) => *known = known.max(chance),
                    None => chances.push((part, chance)),
                }
            }
        }
        chances
            .into_iter()
            .filter(|(_, chance)| *chance > NO_CHANCE)
            .map(|(part, chance)| HiddenDamage {
                alpha: chance.clamp(NO_CHANCE, 1.0 - NO_CHANCE),
                beta: 1.0 - chance.clamp(NO_CHANCE, 1.0 - NO_CHANCE),
                minutes: self.mending(&part),
                materials: self.mending_materials(&part, setting.stock),
            })
            .collect()
    }
}

#[cfg(test)]
mod tests;
