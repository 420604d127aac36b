//! Sentences of a pair that came back with a complaint.

use crate::sentence::sentences;

sentences! {
    it_came_back() { "It came back" }
    no_such_job() { "There is no such job on this device." }

    earlier_work() { "Earlier work" }
    what_was_done() { "What was done" }
    work_on_side(work: &str, side: &str) { "{work}, {side}" }
    agreed_but_not_noted_as_done() { "agreed, not noted as done" }
    left_the_shop(day: &str) { "It left the shop: {day}." }
    guarantee(terms: &str) { "Guarantee: {terms}" }
    photograph_number(number: usize) { "Photograph {number}" }

    what_it_is_about() { "What it is about" }
    say_what_it_is_about() { "Say first what it is about." }
    work() { "Work" }
    what_the_customer_says() { "What the customer says" }
    day_promised() { "Day promised" }
    take_it_back_in() { "Take it back in" }
    cause_if_known() { "Cause, if known" }
    why_did_it_not_hold() { "Why did it not hold, as far as can be seen? Tap what is likeliest." }
    cause_our_work() { "Our work" }
    cause_material() { "Material" }
    cause_wear() { "Wear" }
    cause_elsewhere() { "Something else" }
}
