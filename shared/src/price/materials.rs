//! The material that an operation uses, from the shop's own list.

use serde::{Deserialize, Serialize};
use serde_json::Value;

use super::records::{JobFacts, StepFact};
use crate::log::body::field;
use crate::log::fold::ShopState;
use crate::price::minor::Minor;
use crate::trade::formulas::{Field, InvalidField};

const COST: Field = Field::number("cost_minor", "minor units for one unit", 0.0, 100_000_000.0);
const QUANTITY: Field = Field::number("quantity", "units on a pair", 0.0, 10_000.0);
const WASTE: Field = Field::number("waste", "fraction that goes to waste on top", 0.0, 10.0);
/// The longest name of a material or a unit, in characters.
const LONGEST: usize = 80;

/// One material of an operation: how much a pair needs of it, and what it costs.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Stock {
    /// Its name.
    pub material: String,
    /// The unit it is counted in: pair, sheet, m, g.
    pub unit: String,
    /// The cost of one unit, without tax, in minor units.
    pub cost_minor: Minor,
    /// How many units a pair needs.
    pub quantity: f64,
    /// The waste, as a fraction of what is used.
    #[serde(default)]
    pub waste: f64,
}

impl Stock {
    /// Checks that every field is within its range.
    ///
    /// # Errors
    /// The first field that is out of range.
    pub fn check(&self) -> Result<(), InvalidField> {
        for (name, text) in [("material", &self.material), ("unit", &self.unit)] {
            if text.trim().is_empty() || text.chars().count() > LONGEST {
                return Err(InvalidField::new(
                    name,
                    words::analytics::characters_allowed(LONGEST),
                ));
            }
        }
        COST.check(self.cost_minor.as_f64())?;
        QUANTITY.check(self.quantity)?;
        WASTE.check(self.waste)?;
        Ok(())
    }

    /// The cost of so many units, waste included, in minor units, not rounded.
    fn cost_of(&self, quantity: f64) -> f64 {
        self.cost_minor.as_f64() * quantity * (1.0 + self.waste)
    }

    /// The cost of what a pair needs of it, in minor units, not rounded.
    pub fn cost(&self) -> f64 {
        self.cost_of(self.quantity)
    }
}

/// The materials of an operation in the shop's list, last used first, without those that are out of range.
pub fn stock(shop: &ShopState, operation: &str) -> Vec<Stock> {
    let list = shop.details.list(&field::stock(operation));
    let read = |one: &Value| serde_json::from_value::<Stock>(one.clone()).ok();
    list.filter_map(read).filter(|one| one.check().is_ok()).collect()
}

/// The list after one of its materials was used: that one comes first.
pub fn used(mut list: Vec<Stock>, material: &str) -> Vec<Stock> {
    if let Some(at) = list.iter().position(|one| one.material == material) {
        list[..=at].rotate_right(1);
    }
    list
}

/// The usual cost of an operation's material for a pair, in minor units: that of the material used last. 0 for an empty
/// list.
pub fn usual_cost(list: &[Stock]) -> f64 {
    list.first().map_or(0.0, Stock::cost)
}

/// The cost of a step's material, in minor units: of what was stated to be used, otherwise the usual cost.
pub fn step_cost(step: &StepFact, list: &[Stock]) -> f64 {
    let cost = |name: &str, thousandths: u32| {
        let stock = list.iter().find(|one| one.material == name);
        stock.map_or(0.0, |one| one.cost_of(f64::from(thousandths) / 1_000.0))
    };
    if step.used.is_empty() {
        return usual_cost(list);
    }
    step.used
        .iter()
        .map(|used| cost(&used.material, used.thousandths))
        .sum()
}

/// The cost of one operation's material on a job, in minor units. Every step counts, including one that was made again,
/// whose material is scrap. A step on both shoes takes what a pair needs, a step on one shoe half of it.
pub fn job_cost(job: &JobFacts, operation: &str, list: &[Stock]) -> f64 {
    let steps = job.steps.iter().filter(|step| step.operation == operation);
    let cost = |step: &StepFact| {
        let one_shoe = step.used.is_empty() && step.side != crate::log::body::Side::Both;
        step_cost(step, list) * if one_shoe { 0.5 } else { 1.0 }
    };
    steps.map(cost).sum()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::log::body::{Side, Used};
    use crate::price::records::At;

    fn rubber(quantity: f64, waste: f64) -> Stock {
        Stock {
            material: "rubber sheet".to_owned(),
            unit: "sheet".to_owned(),
            cost_minor: Minor(2_400),
            quantity,
            waste,
        }
    }

    fn step(side: Side, used: Vec<Used>) -> StepFact {
        StepFact {
            operation: "half_sole".into(),
            side,
            minutes: None,
            person: None,
            at: At(0, 0),
            used,
            redone: false,
            scrap: String::new(),
        }
    }

    /// By hand: an eighth of a sheet at 24.00, a quarter of that wasted, is 3.75.
    #[test]
    fn what_a_pair_takes_and_what_was_said_to_be_used() {
        let list = [rubber(0.125, 0.25)];
        assert!((usual_cost(&list) - 375.0).abs() < 1e-9);
        let used = Used {
            material: "rubber sheet".to_owned(),
            thousandths: 250,
        };
        assert!((step_cost(&step(Side::Both, vec![used]), &list) - 750.0).abs() < 1e-9);
        let other = Used {
            material: "felt".to_owned(),
            thousandths: 250,
        };
        assert_eq!(
            step_cost(&step(Side::Both, vec![other]), &list),
            0.0,
            "not on the list"
        );
        assert_eq!(usual_cost(&[]), 0.0);
    }

    #[test]
    fn what_was_used_last_stands_first() {
        let named = |name: &str| Stock {
            material: name.to_owned(),
            ..rubber(1.0, 0.0)
        };
        let list = used(vec![named("a"), named("b"), named("c")], "c");
        let names: Vec<_> = list.iter().map(|one| one.material.as_str()).collect();
        assert_eq!(names, ["c", "a", "b"]);
    }

    #[test]
    fn amounts_that_cannot_be_are_named() {
        assert_eq!(rubber(1.0, 0.1).check(), Ok(()));
        for (wrong, field) in [
            (rubber(f64::NAN, 0.0), "quantity"),
            (rubber(-1.0, 0.0), "quantity"),
            (rubber(1.0, -0.1), "waste"),
            (
                Stock {
                    cost_minor: Minor(-5),
                    ..rubber(1.0, 0.0)
                },
                "cost_minor",
            ),
            (
                Stock {
                    unit: " ".to_owned(),
                    ..rubber(1.0, 0.0)
                },
                "unit",
            ),
        ] {
            assert_eq!(wrong.check().unwrap_err().field, field);
        }
    }
}
