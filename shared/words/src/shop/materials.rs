//! Sentences of the materials that each operation uses.

use crate::sentence::sentences;

sentences! {
    materials() { "Materials" }
    for_repairers() { "What material costs is for repairers." }
    what_a_pair_takes() {
        "What a pair takes of it, and what that costs without tax. The first counts for a step unless another is said \
        there."
    }
    operation() { "Operation" }
    nothing_yet() { "Nothing yet: this work counts as using no material." }
    used_a_pair(quantity: f64, unit: &str, unit_cost: &str, cost: &str) {
        "{quantity} {unit} a pair at {unit_cost}: {cost} a pair"
    }
    used_a_pair_with_waste(quantity: f64, unit: &str, unit_cost: &str, waste: f64, cost: &str) {
        "{quantity} {unit} a pair at {unit_cost}, {waste:.0} % wasted: {cost} a pair"
    }
    without(material: &str) { "Without {material}" }
    another_material() { "Another material" }
    material() { "Material" }
    counted_in() { "Counted in" }
    usual_unit() { "pair" }
    one_costs() { "One costs" }
    a_pair_takes() { "A pair takes" }
    wasted_on_top_in_percent() { "Wasted on top, %" }
    wasted_on_top() { "Wasted on top" }
    put_on_list() { "Put it on the list" }
    cost_is_not_an_amount(typed: &str) { "One costs: “{typed}” is not an amount. For example 4.50." }
    allowed_is(field: &str, allowed: &str) { "{field}: {allowed}." }
    list_is_saved(operation: &str) { "{operation}: the list is saved." }
}
