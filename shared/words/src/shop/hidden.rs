//! Sentences of the damage that an operation uncovers.

use crate::sentence::sentences;

sentences! {
    what_it_hides() { "Hidden damage" }
    what_operation_hides(operation: &str) { "Hidden damage, {operation}" }
    what_is_counted() {
        "Counted are pairs in which the part was really opened; what was made good by choice is not. Your own answer \
        weighs as much as five pairs, until your own jobs say more."
    }
    as_guessed() { "As guessed at the counter" }
    construction_not_known() { "Not known" }
    opens_nothing() { "This work opens nothing that could hide damage." }
    parts() { "Parts" }
    found_of_ten(found: f64, least: f64, most: f64) { "{found:.1} of ten; between {least:.1} and {most:.1}" }
    ask_how_many_of_ten(part: &str) { "{part}: of ten such pairs, how many?" }
    not_from_0_to_10(typed: &str) { "“{typed}” is not a number from 0 to 10." }
}
