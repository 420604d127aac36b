//! Compares two or three repairs by their cost per year of wear.

use serde::{Deserialize, Serialize};

use crate::trade::formulas::calculation::gives;
use crate::trade::formulas::{Allowed, AnswerField, Calculation, Field, InvalidField};

const MONTHS: f64 = 12.0;
const MINUTES_IN_HOUR: f64 = 60.0;

const CHOICES: Field = Field::new(
    "choices",
    "objects of minutes (0 to 100000), materials (0 to 1e9, as rate_per_hour) and life_months (0.1 to 1200)",
    Allowed::Described("a list of 1 to 20 ways"),
);
const RATE: Field = Field::number("rate_per_hour", "amount an hour", 0.0, 1e9);
const MINUTES: Field = Field::number("minutes", "min", 0.0, 100_000.0);
const MATERIALS: Field = Field::number("materials", "amount", 0.0, 1e9);
const LIFE: Field = Field::number("life_months", "months", 0.1, 1_200.0);

/// One possible repair.
#[derive(Debug, Clone, Copy, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct RepairChoice {
    /// Attended minutes.
    pub minutes: f64,
    /// The cost of material, in the currency of the hourly rate.
    pub materials: f64,
    /// How long it is expected to last, in months.
    pub life_months: f64,
}

/// The repairs to compare.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Ways {
    /// The repairs, in any order.
    pub choices: Vec<RepairChoice>,
    /// The cost of an hour of attended work.
    pub rate_per_hour: f64,
}

/// The costs of the repairs.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Costs {
    /// The cost of each, in the given order.
    pub cost: Vec<f64>,
    /// The cost per year of wear of each, in the given order.
    pub cost_per_year: Vec<f64>,
    /// The indices of the repairs by cost per year, cheapest first; of equal ones, the earlier one first.
    pub order: Vec<usize>,
}

impl Calculation for Ways {
    const NAME: &'static str = "choices";
    const TAKES: &'static [Field] = &[CHOICES, RATE];
    const GIVES: &'static [AnswerField] = gives![
        "cost" "list, in the order given", "cost_per_year" "list, in the order given",
        "order" "places from 0, cheapest year first",
    ];
    type Answer = Costs;

    fn calculate(&self) -> Result<Costs, InvalidField> {
        let rate = RATE.check(self.rate_per_hour)?;
        if !(1..=20).contains(&self.choices.len()) {
            return Err(CHOICES.refused());
        }
        let mut costs = Costs {
            cost: Vec::new(),
            cost_per_year: Vec::new(),
            order: Vec::new(),
        };
        for way in &self.choices {
            let inside = |refused: InvalidField| refused.within(CHOICES.name);
            let work = MINUTES.check(way.minutes).map_err(inside)? / MINUTES_IN_HOUR * rate;
            let cost = work + MATERIALS.check(way.materials).map_err(inside)?;
            costs.cost.push(cost);
            costs
                .cost_per_year
                .push(cost * MONTHS / LIFE.check(way.life_months).map_err(inside)?);
        }
        costs.order = (0..costs.cost.len()).collect();
        costs
            .order
            .sort_by(|a, b| costs.cost_per_year[*a].total_cmp(&costs.cost_per_year[*b]));
        Ok(costs)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn way(minutes: f64, materials: f64, life_months: f64) -> RepairChoice {
        RepairChoice {
            minutes,
            materials,
            life_months,
        }
    }

    /// By hand: 30 min at 60 and 6 of rubber is 36, 24 a year over 18 months; 90 min and 30 of leather is 120, 40 a year over
    /// three years; 20 min and 4 is 24, 48 a year over half a year.
    #[test]
    fn the_dearer_one_can_be_the_cheaper_year() {
        let ways = Ways {
            choices: vec![way(20.0, 4.0, 6.0), way(90.0, 30.0, 36.0), way(30.0, 6.0, 18.0)],
            rate_per_hour: 60.0,
        };
        let got = ways.calculate().unwrap();
        assert_eq!(got.cost, [24.0, 120.0, 36.0]);
        assert_eq!(got.cost_per_year, [48.0, 40.0, 24.0]);
        assert_eq!(got.order, [2, 1, 0]);
    }

    #[test]
    fn what_cannot_be_is_named() {
        let refused = |way: RepairChoice, rate_per_hour: f64| {
            Ways {
                choices: vec![way],
                rate_per_hour,
            }
            .calculate()
            .unwrap_err()
            .field
        };
        assert_eq!(refused(way(-1.0, 0.0, 12.0), 60.0), "choices.minutes");
        assert_eq!(refused(way(1.0, -5.0, 12.0), 60.0), "choices.materials");
        assert_eq!(refused(way(1.0, 0.0, 0.0), 60.0), "choices.life_months");
        assert_eq!(refused(way(1.0, 0.0, f64::NAN), 60.0), "choices.life_months");
        assert_eq!(refused(way(1.0, 0.0, 12.0), -60.0), "rate_per_hour");
        let none = Ways {
            choices: vec![],
            rate_per_hour: 60.0,
        };
        assert_eq!(none.calculate().unwrap_err().field, "choices");
    }
}
