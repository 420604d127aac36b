//! Sentences of the people who work in the shop.

use crate::sentence::sentences;

sentences! {
    people() { "People" }
    what_a_helper_sees() {
        "Entries name who made them. A helper sees neither prices nor earnings, changes no settings, and erases nothing."
    }
    /// Follows the person's name, which is an element of its own.
    helper_after_name() { ", helper" }
    /// Follows the person's name, which is an element of its own.
    repairer_after_name() { ", repairer" }
    make_repairer(name: &str) { "Make {name} a repairer" }
    make_helper(name: &str) { "Make {name} a helper" }
    has_left(name: &str) { "{name} has left" }
    /// The field for the first person of the shop.
    your_name() { "Your name" }
    somebody_else() { "Somebody else" }
    helper() { "Helper" }
    add() { "Add" }
    ask_for_name() { "Type the name first." }
    noted_has_left(name: &str) { "{name} has left." }
    noted_works_as_helper(name: &str) { "{name} works here, as a helper." }
    noted_works_as_repairer(name: &str) { "{name} works here, as a repairer." }
}
