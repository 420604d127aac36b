//! Sentences of what the server keeps aside until a repairer decides, and of the kinds of entry.

use crate::sentence::sentences;

sentences! {
    kept_aside() { "Kept aside" }
    what_is_kept() {
        "What helpers' devices sent that a helper's device may not write. The server keeps it aside, and it counts nowhere, \
        until a repairer takes it or drops it."
    }
    ask_what_is_kept() { "Ask what is kept aside" }
    nothing_is_kept() { "Nothing is kept aside." }
    there_is_more() { "There is more, which comes once this is decided." }
    not_all_are_shown(others: usize) { one "And one more.", many "And {others} more." }
    sent_by(device: &str, when: &str) { "{device}, {when}" }
    a_device_of_the_shop() { "A device of the shop" }
    take() { "Take" }
    drop_it() { "Drop" }
    /// The accessible name of [`take`].
    take_what(what: &str, of: &str) { "Take: {what}, {of}" }
    /// The accessible name of [`drop_it`].
    drop_what(what: &str, of: &str) { "Drop: {what}, {of}" }
    take_all() { "Take all of it" }
    drop_all() { "Drop all of it" }
    taken() { "Taken: it is in the shop's records." }
    dropped() { "Dropped. It stays on the device that made it." }
}

// What an entry is about.
sentences! {
    the_shop() { "the shop" }
    customer(name: &str) { "customer {name}" }
    material(name: &str) { "material {name}" }
    pair_with_number(number: &str, name: &str) { "{number} {name}" }
    not_known_here() { "something that this device does not know" }
}

// What an entry says, by its kind.
sentences! {
    price(operation: &str, goods: &str, amount: &str) { "Price of {operation}, {goods}: {amount}" }
    price_of_one_shoe(operation: &str, goods: &str, amount: &str) { "Price of {operation} on one shoe, {goods}: {amount}" }
    price_of_package(package: &str, goods: &str, amount: &str) { "Price of {package} together, {goods}: {amount}" }
    price_of_piece(goods: &str, amount: &str) { "Price of {goods}, each: {amount}" }
    /// Stands in place of the amount of a price that the shop no longer has.
    no_price_of_its_own() { "as in the trade's list" }
    /// What the shop says about a kind of cement, or about gluing one material on another.
    cement_is(of: &str, what: &str) { "{of}: {what}" }
    cement_dries(minutes: u32) { "dries {minutes} min" }
    cement_is_open(minutes: u32) { "is open {minutes} min after that" }
    primer_is(primer: &str) { "primer: {primer}" }
    made_of(materials: &str) { "Made of: {materials}" }
    lined_with(materials: &str) { "Lining: {materials}" }
    /// Stands in place of the materials of a pair.
    materials_not_stated() { "not stated" }
    field(name: &str, value: &str) { "{name}: {value}" }
    new_record() { "A new record" }
    agreed_work() { "Agreed work" }
    photograph() { "A photograph" }
    work_done() { "Work done" }
    wait() { "A wait" }
    found_inside() { "What was found inside" }
    question() { "A question to the customer" }
    measurement() { "A measurement" }
    note() { "A note" }
    payment() { "A payment" }
    sold() { british "Sundries sold", american "Accessories sold" }
    counted() { "A count of a material" }
    ordered() { "A material ordered" }
    arrived() { "A material that has come" }
    complaint() { "A complaint" }
    final_check() { "The final check" }
    hand_over() { "Handing over" }
    care_card() { "The care card" }
    withdrawing() { "Withdrawing something" }
    joining() { "Joining two records" }
    erasing() { "Erasing it for good" }
    destroying() { "Deleting a photograph or voice note" }
    /// With the log's word for a kind that this version does not know.
    of_a_newer_app(kind: &str) { "Something of a newer app ({kind})" }
}
