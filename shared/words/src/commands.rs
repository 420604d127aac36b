//! Sentences of what a command refuses, and the lines it writes.

use crate::sentence::sentences;

// Drop-off: what is missing, and the title of a form that is not finished.
sentences! {
    missing_of_pair(number: usize, missing: &str) { "Pair {number}: {missing}" }
    work_is_missing() { "the work is missing. Tap what is to be done, or take the pair off again." }
    price_is_missing(operation: &str) { "{operation}: the price is missing, for example 45 or 45.50." }
    not_a_price(operation: &str, typed: &str) { "{operation}: “{typed}” is not a price, for example 45 or 45.50." }
    day_is_missing() { "The day is missing. Tap one, or type it." }
    ask_for_most_that_hidden_may_cost() { "How much may it cost if something hidden turns up? For example 20." }
    ask_for_deposit() { "How much is the deposit? For example 20." }
    deposit_above_total() { "The deposit is more than the total. Type the total or less." }
    counted_goods(count: u32, goods: &str) { "{count} × {goods}" }
    unfinished(pairs: usize) { one "1 pair", many "{pairs} pairs" }
    unfinished_of(pairs: usize, said: &str) { one "1 pair, {said}", many "{pairs} pairs, {said}" }
}

// Opening up: what the customer is told, and the repairs to choose from.
sentences! {
    part_is(part: &str, condition: &str) { "The {part} is {condition}." }
    left_part_is(part: &str, condition: &str) { "The left {part} is {condition}." }
    right_part_is(part: &str, condition: &str) { "The right {part} is {condition}." }
    /// With a condition that does not describe the part, such as bent nails.
    found_at_part(part: &str, condition: &str) { "Found at the {part}: {condition}." }
    found_at_left_part(part: &str, condition: &str) { "Found at the left {part}: {condition}." }
    found_at_right_part(part: &str, condition: &str) { "Found at the right {part}: {condition}." }
    ask_for_minutes() { "Minutes: a number from 0 to 100000." }
    ask_for_material() { "Material: an amount like 3.50." }
    ask_for_months() { "How long it lasts: whole months, 1 to 1200, or nothing." }
    ask_for_price() { "Price: an amount like 45.50, or nothing for no charge." }
    no_charge() { "no charge" }
    repair_choice(say: &str, price: &str) { "{say}: {price}." }
    repair_choice_lasting(say: &str, price: &str, lasts: &str) { "{say}: {price}, lasts about {lasts}." }
    repair_choice_with_cost_a_year(say: &str, price: &str, lasts: &str, year: &str) {
        "{say}: {price}, lasts about {lasts}, {year} a year."
    }
}

// Pickup: what holds a pair back, the line that the final check adds, and the message to the customer.
sentences! {
    not_ticked(lines: &str) { "Not ticked: {lines}." }
    parts_not_back_in(parts: &str) { "Not back in: {parts}." }
    part_of_left_shoe(part: &str) { "{part} (left)" }
    part_of_right_shoe(part: &str) { "{part} (right)" }
    part_of_both_shoes(part: &str) { "{part} (both)" }
    /// With the log's word for a side that this version does not know.
    part_of_shoe(part: &str, side: &str) { "{part} ({side})" }
    question_still_open() { "A question to the customer is still open. Note the answer first, under Ask." }
    nothing_noted_as_done() {
        "Nothing is noted as done yet: note a step, or finish the final check, before the customer reads of it."
    }
    final_check_not_finished() { "The final check is not finished. Finish it first." }
    /// The log holds this line, and it is recognised there by its beginning: it must begin alike in every language.
    photo_before() { "Before" }
    photo_after() { "After" }
    done_though_not_noted(work: &str) { "Done, though not noted: {work}" }
    ready_to_collect(pairs: &str) { "Ready to collect: {pairs}." }
    due(amount: &str) { "Due: {amount}." }
}

// The lines of the care card.
sentences! {
    gift_was_needed() { "It was needed." }
    gift_is_our_choice() { "On the house." }
    gift_is_worth(amount: &str) { "Worth {amount}." }
    part_found(part: &str, condition: &str) { "{part}: {condition}." }
    left_part_found(part: &str, condition: &str) { "{part}, left: {condition}." }
    right_part_found(part: &str, condition: &str) { "{part}, right: {condition}." }
    part_mended() { "Mended." }
    part_mended_at_no_charge() { "Mended at no charge." }
    part_replaced() { "Replaced." }
    part_replaced_at_no_charge() { "Replaced at no charge." }
    part_good_enough_to_stay() { "Good enough to stay." }
    part_left_as_it_is() { "Left as it is." }
    photo_of_damage() { "What was found" }
    photo_of_work() { "At work" }
    photo_of_match() { "Not quite a match" }
}

// What is not quite a match, as the customer reads it.
sentences! {
    laces_not_a_match() {
        british "The laces are not quite the colour of the old ones.",
        american "The laces are not quite the color of the old ones.",
    }
    colour_not_a_match() {
        british "The colour is not quite the one it had.",
        american "The color is not quite the one it had.",
    }
    thread_not_a_match() {
        british "The thread is not quite the colour of the old one.",
        american "The thread is not quite the color of the old one.",
    }
    leather_not_a_match() {
        british "The new leather is not quite the colour of the old one.",
        american "The new leather is not quite the color of the old one.",
    }
    match_with_difference(say: &str, difference: &str) {
        british "{say} Colour difference, as measured: {difference}.",
        american "{say} Color difference, as measured: {difference}.",
    }
}

// What holds the sole when the pair leaves, if that has changed. What the construction is follows, in a sentence of the
// trade.
sentences! {
    sole_is_now_stitched() { "The sole is now stitched." }
    sole_is_now_glued() { "The sole is now glued on." }
    sole_is_now_held_in_another_way() { "The sole is now held in another way." }
    /// With the log's word for a construction that this version does not know.
    sole_is_now_held_like(construction: &str) { "The sole is now held in another way: {construction}." }
}

// Old parts that were put back, each in a sentence of its own.
sentences! {
    /// Of a part on the outside.
    old_part_put_back(part: &str) { "The old {part} was taken off and put back." }
    /// Of a part inside the shoe.
    old_part_put_back_in(part: &str) { "The old {part} was taken out and put back." }
    /// A part of both shoes, in [`old_part_put_back`] or [`old_part_put_back_in`].
    old_part_of_each_shoe(part: &str) { "{part} of each shoe" }
}

// Old parts that the customer gets back with the pair.
sentences! {
    old_heels_with_pair() { "Your old heels are with the pair." }
    /// With [`left`](crate::card::left) or [`right`](crate::card::right).
    old_heel_with_pair(side: &str) { "Your old {side} heel is with the pair." }
    old_soles_with_pair() { "Your old soles are with the pair." }
    /// With [`left`](crate::card::left) or [`right`](crate::card::right).
    old_sole_with_pair(side: &str) { "Your old {side} sole is with the pair." }
    old_heel_tips_with_pair() { "Your old heel tips are with the pair." }
    /// With [`left`](crate::card::left) or [`right`](crate::card::right).
    old_heel_tip_with_pair(side: &str) { "Your old {side} heel tip is with the pair." }
    old_parts_with_pair(parts: &str) { "Also with the pair, taken off: {parts}." }
    /// A part of one shoe, in the list of [`old_parts_with_pair`], in [`old_part_put_back`] or in
    /// [`old_part_put_back_in`].
    old_part_of_one_shoe(part: &str, side: &str) { "{part} of the {side} shoe" }
}
