//! Sentences of the price list.

use crate::sentence::sentences;

sentences! {
    price_list() { "Price list" }
    for_repairers() { "Prices are for repairers." }
    slanted_are_norms() {
        "Slanted figures are norms to start from. Write your own price over one; empty it, and the norm stands again."
    }
    kind() { "Kind" }
    all_kinds() { "All kinds" }
    prices() { "Prices" }
    work() { "Work" }
    operation_on_goods(operation: &str, goods: &str) { "{operation}, {goods}" }
    not_a_price(typed: &str) { "“{typed}” is not a price. For example 45 or 45.50." }
    own_work() { "Own work" }
    its_price() { "Its price" }
    add_to_list() { "Add to the list" }
    own_work_needs_name_and_price() { "Own work needs a name and a price." }
}
