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
    /// The row with the price of one shoe of a pair.
    one_shoe() { "One shoe" }
    variant_on_goods(operation: &str, variant: &str, goods: &str) { "{operation}, {variant}, {goods}" }
    packages() { "Packages" }
    prices_of_packages() { "Prices of packages" }
    what_packages_are() {
        "A package is agreed in one tap. Without a price of your own it costs a little less than its parts together."
    }
    not_a_price(typed: &str) { "“{typed}” is not a price. For example 45 or 45.50." }
    own_work() { "Own work" }
    its_price() { "Its price" }
    add_to_list() { "Add to the list" }
    own_work_needs_name_and_price() { "Own work needs a name and a price." }
    what_goods_are() {
        "Laces, polish, insoles, keys: offered with one tap at drop-off and on a ticket. Empty a price to take goods off \
        the list."
    }
    goods_on_list() { "Goods on the list" }
    price_of_one_of(goods: &str) { "Price of one, {goods}" }
    what_is_sold() { "What is sold" }
    price_of_one() { "Price of one" }
    add_goods_to_list() { "Add these goods to the list" }
    goods_need_name_and_price() { "Goods need a name and a price." }
}
