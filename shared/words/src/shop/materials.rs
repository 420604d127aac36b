//! Sentences of the shop's older list of what each operation uses.

use crate::sentence::sentences;

sentences! {
    used_a_pair(quantity: f64, unit: &str, unit_cost: &str, cost: &str) {
        "{quantity} {unit} a pair at {unit_cost}: {cost} a pair"
    }
    used_a_pair_with_waste(quantity: f64, unit: &str, unit_cost: &str, waste: f64, cost: &str) {
        "{quantity} {unit} a pair at {unit_cost}, {waste:.0} % wasted: {cost} a pair"
    }
    without(material: &str) { "Without {material}" }
    usual_unit() { "pair" }
    cost_is_not_an_amount(typed: &str) { "One costs: “{typed}” is not an amount. For example 4.50." }
    list_is_saved(operation: &str) { "{operation}: the list is saved." }
}
