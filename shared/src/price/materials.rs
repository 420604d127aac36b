//! The material that an operation uses, from the shop's own list. Where the shop keeps a shelf,
//! [`shelf`](crate::shelf) makes such lists with the costs of its materials.

use serde::{Deserialize, Serialize};
use serde_json::Value;

use super::records::{JobFacts, StepFact};
use crate::log::body::{Used, field};
use crate::log::entry::SubjectId;
use crate::log::fold::ShopState;
use crate::price::minor::Minor;
use crate::trade::formulas::{Field, InvalidField};

const COST: Field = Field::number("cost_minor", "minor units for one unit", 0.0, 100_000_000.0);
const QUANTITY: Field = Field::number("quantity", "units on a pair", 0.0, 10_000.0);
const WASTE: Field = Field::number("waste", "fraction that goes to waste on top", 0.0, 10.0);
/// The longest name of a material or a unit, in characters.
const LONGEST: usize = 80;

/// In place of an operation: the field of a shop's settings that has the materials of no operation in particular, see
/// [`stock`].
pub const OF_ANY: &str = "";

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
    /// The material of the shelf that it is; absent in the list that the shop itself keeps.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub id: Option<SubjectId>,
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

/// The materials of an operation in the shop's list, the usual one first, without those that are out of range. In
/// settings that were made with a shelf, the materials that any operation can take follow.
pub fn stock(shop: &ShopState, operation: &str) -> Vec<Stock> {
    let mut all = listed(shop, operation);
    if operation != OF_ANY {
        all.extend(listed(shop, OF_ANY));
    }
    all
}

fn listed(shop: &ShopState, operation: &str) -> Vec<Stock> {
    let list = shop.details.list(&field::stock(operation));
    let read = |one: &Value| serde_json::from_value::<Stock>(one.clone()).ok();
    list.filter_map(read).filter(|one| one.check().is_ok()).collect()
}

/// The usual cost of an operation's material for a pair, in minor units: that of the first one. 0 for an empty list.
pub fn usual_cost(list: &[Stock]) -> f64 {
    list.first().map_or(0.0, Stock::cost)
}

/// The cost of a step's material, in minor units: of what was stated to be used, at what it costs now, otherwise the
/// usual cost. A material of the shelf is found by its id, and in a list without it by its name.
pub fn step_cost(step: &StepFact, list: &[Stock]) -> f64 {
    if step.used.is_empty() {
        return usual_cost(list);
    }
    step.used.iter().map(|used| used_cost(used, list)).sum()
}

fn used_cost(used: &Used, list: &[Stock]) -> f64 {
    let units = f64::from(used.thousandths) / 1_000.0;
    let named = || list.iter().find(|one| one.material == used.material);
    match used.material_id {
        None => named().map_or(0.0, |one| one.cost_of(units)),
        Some(id) => {
            let stock = list.iter().find(|one| one.id == Some(id)).or_else(named);
            // The amount includes what was wasted.
            stock.map_or(0.0, |one| one.cost_minor.as_f64() * units)
        }
    }
}

/// The cost of one operation's material on a job, in minor units. Every step counts, including one that was made again,
/// whose material is scrap. A step that does not say what it used takes what a pair needs, on one shoe half of it, and for so
/// many pieces so many times that.
pub fn job_cost(job: &JobFacts, operation: &str, list: &[Stock]) -> f64 {
    let steps = job.steps.iter().filter(|step| step.operation == operation);
    let cost = |step: &StepFact| {
        let times = if step.used.is_empty() { step.takes() } else { 1.0 };
        step_cost(step, list) * times
    };
    steps.map(cost).sum()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::log::body::Side;
    use crate::price::records::At;
    use uuid::Uuid;

    fn rubber(quantity: f64, waste: f64) -> Stock {
        Stock {
            material: "rubber sheet".to_owned(),
            unit: "sheet".to_owned(),
            cost_minor: Minor(2_400),
            quantity,
            waste,
            id: None,
        }
    }

    fn used_of(material: &str, thousandths: u32, material_id: Option<SubjectId>) -> Used {
        Used {
            material: material.to_owned(),
            thousandths,
            material_id,
        }
    }

    fn step(side: Side, used: Vec<Used>) -> StepFact {
        StepFact {
            pieces: 1,
            operation: "half_sole".into(),
            side,
            minutes: None,
            person: None,
            at: At(0, 0),
            used,
            redone: false,
            scrap: String::new(),
            cement: None,
        }
    }

    /// By hand: an eighth of a sheet at 24.00, a quarter of that wasted, is 3.75.
    #[test]
    fn what_a_pair_takes_and_what_was_said_to_be_used() {
        let list = [rubber(0.125, 0.25)];
        assert!((usual_cost(&list) - 375.0).abs() < 1e-9);
        let used = used_of("rubber sheet", 250, None);
        assert!((step_cost(&step(Side::Both, vec![used]), &list) - 750.0).abs() < 1e-9);
        let other = used_of("felt", 250, None);
        assert_eq!(
            step_cost(&step(Side::Both, vec![other]), &list),
            0.0,
            "not on the list"
        );
        assert_eq!(usual_cost(&[]), 0.0);
    }

    /// By hand: a quarter of a sheet at 24.00 is 6.00 with what was wasted, and a quarter of one at 30.00 is 7.50.
    #[test]
    fn a_material_of_the_shelf_is_found_by_its_id_whatever_it_is_called_now() {
        let id = SubjectId(Uuid::from_u128(7));
        let renamed = Stock {
            material: "soling, black".to_owned(),
            cost_minor: Minor(3_000),
            id: Some(id),
            ..rubber(0.125, 0.25)
        };
        let taken = step(Side::Both, vec![used_of("rubber sheet", 250, Some(id))]);
        let both = [rubber(0.125, 0.25), renamed];
        assert!((step_cost(&taken, &both) - 750.0).abs() < 1e-9);
        assert!(
            (step_cost(&taken, &both[..1]) - 600.0).abs() < 1e-9,
            "without the shelf, by its name"
        );
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
