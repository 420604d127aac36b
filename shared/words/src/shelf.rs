//! Sentences of the materials on the shelf, and of what is ordered.

use crate::sentence::sentences;

// The list.
sentences! {
    shelf() { "Shelf" }
    what_the_shelf_says() {
        "What is there of each material: what was counted and what has come, less what steps took. Nobody writes down \
        what is used up; a step that says nothing takes the usual amount."
    }
    materials() { "Materials" }
    nothing_yet() { "No material yet. Begin with the two or three that run out most often." }
    no_longer_kept() { "No longer kept" }
    materials_below_least(materials: usize) {
        one "1 material is below its least.", many "{materials} materials are below their least."
    }
    there(amount: &str, unit: &str) { "{amount} {unit} there" }
    taken_too_often(amount: &str, unit: &str) { "{amount} {unit} more taken than was there: count it" }
    not_counted_yet() { "not counted yet" }
    below_least() { "below its least" }
    on_order(amount: &str, unit: &str) { "{amount} {unit} on order" }
    wait_for_it(pairs: usize, names: &str) { one "{names} waits for it", many "{names} wait for it" }
    no_name() { "A material without a name" }
}

// Why it should be counted again.
sentences! {
    counted_twice() {
        "Two devices counted this without knowing of each other. What is shown is what the last one saw. Count it \
        again."
    }
    came_late() {
        "Something from before the last count became known after it. What is shown goes by that count. Count it again."
    }
}

// A material as it is typed.
sentences! {
    add_material() { "Add a material" }
    put_on_shelf() { "Put it on the shelf" }
    is_on_shelf(material: &str) { "{material} is on the shelf." }
    change() { "Change it" }
    /// The accessible name of [`change`].
    change_material(material: &str) { "Change {material}" }
    save_changes() { "Save the changes" }
    changed(material: &str) { "{material} is changed." }
    name() { "Name" }
    unit() { "Counted in" }
    there_now() { "There now" }
    least() { "The least that should be there" }
    cost() { "One costs, without tax" }
    more() { "More" }
    kind() { "Kind, for example sheet" }
    size() { "Size" }
    thickness_in_mm() { "Thickness, mm" }
    colour() { british "Colour", american "Color" }
    supplier_of_it() { "Supplier" }
    name_is_wanted() { "What is it called? The rest can wait." }
    not_an_amount(field: &str, typed: &str) { "{field}: “{typed}” is not an amount. For example 2 or 0.5." }
    amount_is_wanted() { "How much? A number is missing." }
    no_longer_keep() { "No longer keep it" }
    no_longer_keep_material(material: &str) { "No longer keep {material}" }
    is_no_longer_kept(material: &str) { "{material} is no longer kept." }
    keep_again() { "Keep it again" }
    keep_material_again(material: &str) { "Keep {material} again" }
    is_kept_again(material: &str) { "{material} is kept again." }
}

// What a pair takes.
sentences! {
    what_a_pair_takes() { "What a pair takes" }
    what_takes_mean() {
        "A step that says nothing takes this much, what is wasted included; on one shoe half of it. Leave it empty \
        where it differs from pair to pair."
    }
    a_pair_takes() { "A pair takes" }
    operation_takes(operation: &str, unit: &str) { "{operation} takes, in {unit}" }
    by_last_steps(operation: &str, amount: &str, unit: &str) { "{operation}: {amount} {unit}, by the last steps" }
    another_operation() { "Another operation that takes it" }
    add_operation() { "Add this operation" }
}

// Counting.
sentences! {
    count_of(material: &str, unit: &str) { "{material}: there now, in {unit}" }
    note_the_count() { "That is there" }
    /// The accessible name of [`note_the_count`].
    note_the_count_of(material: &str) { "{material}: that is there" }
    one_less(material: &str) { "{material}: one less" }
    one_more(material: &str) { "{material}: one more" }
    counted(material: &str, amount: &str, unit: &str) { "{material} counted: {amount} {unit}." }
    cannot_count_yet() {
        "This device has not read all of the shop's records yet. What is shown may be wrong, and nothing can be \
        counted here until it has."
    }
}

// Ordering.
sentences! {
    order_list() { "Order list" }
    nothing_to_order() { "Nothing is below its least and not on order." }
    amount_to_order(material: &str, unit: &str) { "{material}: order, in {unit}" }
    send_as_text() { "Send as text" }
    as_a_file() { "As a file (CSV)" }
    order_copied() { "The order is on the clipboard." }
    order_is_among_downloads() { "order.csv is among the downloads." }
    order_all() { "All of it is ordered" }
    ordered() { "Ordered" }
    /// The accessible name of [`ordered`].
    ordered_material(material: &str) { "{material}: ordered" }
    amount_of_more(material: &str, unit: &str) { "{material}: order more, in {unit}" }
    /// The accessible name of [`ordered`] for a material that is not on the list.
    more_is_ordered(material: &str) { "{material}: more is ordered" }
    was_ordered(material: &str, amount: &str, unit: &str) { "{material}: {amount} {unit} ordered." }
    all_ordered(materials: usize) { one "1 material is on order.", many "{materials} materials are on order." }
    on_order_now() { "On order" }
    is_on_order(amount: &str, unit: &str, when: &str) { "{amount} {unit}, ordered {when}" }
    call_off() { "Withdraw the order" }
    /// The accessible name of [`call_off`].
    call_off_material(material: &str) { "{material}: withdraw the order" }
    called_off(material: &str) { "The order of {material} is withdrawn." }
    the_shop() { "our shop" }
}

// What has come.
sentences! {
    came_without_order() { "Bought without an order" }
    how_much_came(material: &str, unit: &str) { "{material}: has come, in {unit}" }
    how_much_was_bought(material: &str, unit: &str) { "{material}: bought, in {unit}" }
    what_one_cost(material: &str) { "{material}: one cost, without tax" }
    what_was_paid(material: &str) { "{material}: paid for one, without tax" }
    note_arrival() { "Has come" }
    /// The accessible name of [`note_arrival`] where it was ordered.
    note_arrival_of(material: &str) { "{material} has come" }
    /// The accessible name of [`note_arrival`] where it was bought without an order.
    note_purchase_of(material: &str) { "{material} was bought" }
    came(material: &str, amount: &str, unit: &str) { "{material}: {amount} {unit} have come." }
    came_and_go_on(pairs: usize, material: &str, names: &str) {
        one "{material} has come: {names} goes on.", many "{material} has come: {names} go on."
    }
    waits_though_it_came(names: &str) { "It has come since these began to wait for it: {names}." }
    they_go_on() { "They go on" }
    /// The accessible name of [`they_go_on`].
    they_go_on_with(material: &str) { "{material}: those that wait go on" }
    gone_on(names: &str) { "Gone on: {names}." }
}

// At a step.
sentences! {
    takes(material: &str, amount: &str, unit: &str) { "{material}, {amount} {unit}" }
    was_taken(material: &str, amount: &str, unit: &str) { "{material}: {amount} {unit} taken." }
    another_material() { "Another material" }
    another_amount() { "Another amount" }
    amount_taken(material: &str, unit: &str) { "{material} taken, in {unit}" }
    that_much() { "That much" }
    none_of_it() { "None of it" }
    nothing_was_taken() { "Nothing was taken from the shelf." }
    usual_from_now_on(operation: &str, amount: &str, unit: &str) {
        "{operation}: {amount} {unit} as usual from now on"
    }
    is_usual(operation: &str, material: &str) { "{operation} takes {material} as usual." }
}

// The shop's older list.
sentences! {
    older_list() { "Older list" }
    what_the_older_list_does() {
        "What each operation takes, as it was listed before there was a shelf. What stands first here counts for a \
        step that says nothing; take a line off to let the shelf say it. Older apps read this list only."
    }
    move_over(materials: usize) {
        one "Put 1 material of the older list on the shelf",
        many "Put {materials} materials of the older list on the shelf",
    }
    moved_over(materials: usize) {
        one "1 material is on the shelf. Count it.", many "{materials} materials are on the shelf. Count them."
    }
    line_of(operation: &str, line: &str) { "{operation}: {line}" }
}

// Waiting for a material.
sentences! {
    other_materials_of_the_shelf() { "Other materials of the shelf" }
}

// An order as a text to send.
sentences! {
    order_of(shop: &str, day: &str) { "Order from {shop}, {day}" }
    supplier(name: &str) { "{name}:" }
    no_supplier() { "Supplier not noted:" }
    /// One material: how much of it, and which.
    order_line(amount: &str, unit: &str, material: &str) { "- {amount} {unit}: {material}" }
    millimetres(thickness: f64) { "{thickness} mm" }
}

// The columns of an order as a file for a spreadsheet.
sentences! {
    head_supplier() { "Supplier" }
    head_material() { "Material" }
    head_kind() { "Kind" }
    head_size() { "Size" }
    head_thickness() { "Thickness" }
    head_colour() { british "Colour", american "Color" }
    head_amount() { "Amount" }
    head_unit() { "Unit" }
    head_cost_of_one() { "One costs" }
}
