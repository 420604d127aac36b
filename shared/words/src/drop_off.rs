//! Sentences of Drop-off: customer, pair, work, days, ticket.

use crate::sentence::sentences;

sentences! {
    title() { "Drop-off" }
    put_aside() { "Put aside, next customer" }
    another_pair() { "+ another pair" }
    take_in_and_print() { "Take in and print" }
    take_in_and_photograph() { "Take in and photograph" }
    /// The button for goods without a pair.
    sold() { "Sold" }
    day_is_past_tap_again(day: &str) { "{day} is past. Tap again to take it in all the same." }
    day_is_closed_tap_again(day: &str) { "Nobody works on {day}. Tap again to take it in all the same." }
    time_is_outside_the_hours_tap_again(time: &str) {
        "Nobody works at {time} on that day. Tap again to take it in all the same."
    }

    customer() { "Customer" }
    search_known_customers() { "Been here before? Name, last digits, number or look" }
    somebody_else() { "Somebody else" }
    customers_name() { "Customer's name" }
    telephone() { "Telephone" }
    known_pairs() { "Known pairs" }
    known_customers() { "Known customers without a pair" }
    another_pair_of(customer: &str) { "Another pair of {customer}" }

    half_finished() { "Half-finished" }
    half_finished_drop_off(drop_off: &str) { "Half-finished: {drop_off}" }
    go_on() { "Go on" }
    go_on_with(drop_off: &str) { "Go on with {drop_off}" }
    delete() { "Delete" }
    delete_drop_off(drop_off: &str) { "Delete {drop_off}" }
    deleted() { "Deleted." }
    undo() { "Undo" }

    pair_number(number: usize) { "Pair {number}" }
    described_kind(description: &str, kind: &str) { "{description} {kind}" }
    take_pair_off(number: usize) { "Take pair {number} off" }
    kind() { "Kind" }
    wish() { "What the customer wishes" }
    what_it_is() { "What it is" }
    colour() { british "Colour", american "Color" }
    maker() { "Maker" }

    own_tag_number() { "Own tag number" }
    scan() { "Scan" }
    scan_own_tag_number() { "Scan own tag number" }
    tag_of_no_pair_in_the_shop() {
        "This is the stub or tag of a pair that is not in the shop. Scan another tag, or type a number."
    }
    number_hangs_on_pair(number: &str, pair: &str) { "{number} hangs on a pair in the shop: {pair}. Take another number." }
    number_hangs_on_pair_of(number: &str, pair: &str, customer: &str) {
        "{number} hangs on a pair in the shop: {pair}, {customer}. Take another number."
    }

    came_with() { "Came with" }
    something_else_that_came_with_it() { "Something else that came with it" }
    construction() { "Construction" }
    construction_not_known_yet() { "not known yet" }
    damage_already_there() { "Damage already there" }
    part() { "Part" }
    on_which_shoe() { "On which shoe" }
    what_is_wrong_with_it() { "What is wrong with it" }
    damage_seen(part: &str, condition: &str, side: &str) { "{part} {condition}{side}" }

    work() { "Work" }
    more_work() { "More work" }
    less_work() { "Less work" }
    find_work() { "Find work" }
    no_such_work() { "No work of this name. Add it below as other work." }
    /// The label of work that is not charged beside the work that it is part of.
    part_of_other_work(work: &str, other: &str) { "{work}: part of {other}" }
    /// Asks for work that is usually done with what was chosen.
    work_too(work: &str) { "{work} too?" }
    add_work_too(work: &str) { "Add {work}" }
    sold_as(package: &str) { "As {package}" }
    other_work() { "Other work" }
    add_other_work() { "Add it" }
    price_of(work: &str) { "Price of {work}" }
    without(work: &str) { "Without {work}" }
    which_shoe(work: &str) { "Which shoe, {work}" }
    other_shoe_differently() { "The other shoe differently" }
    other_shoe_of_work_differently(work: &str) { "The other shoe differently, {work}" }

    price_falls_short(target: &str, of_ten: f64) {
        "At {target} an hour, this price falls short in {of_ten:.0} of 10 such jobs."
    }
    price_of_pair_falls_short(pair: usize, target: &str, of_ten: f64) {
        "Pair {pair}: At {target} an hour, this price falls short in {of_ten:.0} of 10 such jobs."
    }

    ticket() { "Ticket" }
    day() { "Day" }
    today() { "Today" }
    tomorrow() { "Tomorrow" }
    days_after_today(days: u32) { "In {days} days" }
    day_promised() { "Day promised" }
    ready_from_if_said() { "Ready from (if said)" }
    this_day_is_past() { "This day is past. Tap a later one." }
    hurry() { "Hurry" }
    rush() { "Rush" }
    customer_waits() { "Customer waits" }
    if_something_hidden_turns_up() { "If something hidden turns up:" }
    nothing_extra() { "Nothing extra" }
    up_to_an_amount() { "Up to an amount" }
    ask_first() { "Ask first" }
    up_to() { "Up to" }
    payment() { "Payment" }
    not_paid() { "Not paid" }
    deposit() { "Deposit" }
    paid_in_full() { "Paid in full" }
    deposit_paid_now() { "Deposit paid now" }
    pairs(count: usize) { one "1 pair", many "{count} pairs" }
    without_unread_prices(count: usize) {
        one "without a price that cannot be read",
        many "without {count} prices that cannot be read",
    }
    tax_in_it(rate: &str, amount: &str) { "{rate} % tax in it: {amount}" }
    tax_added(rate: &str, amount: &str) { "{rate} % tax added: {amount}" }

    days_with_their_load() { "Days with their load" }
    load_unknown(why: &str) { "How full the days are cannot be said now: {why}. Any day can be promised." }
    suggested(day: &str) { "Suggested: {day}" }
    day_full() { "full" }
    chance_of_day(percent: f64) { "{percent:.0} % sure" }
    load_of_day(percent: f64) { "{percent:.0} % planned" }
    day_with_its_load(short_day: &str, load: &str, day: &str) { "{short_day} {load}, {day}" }
    day_and_its_chance(day: &str, chance: &str) { "{day}, {chance}" }
    chance_if_others_wait(percent: f64) { "{percent:.0} % sure if others wait" }
    nobody_works_on_this_day() { "Nobody works on this day." }
    promise_instead(day: &str) { "Promise {day} instead" }
    time_is_outside_the_hours(time: &str, hours: &str) { "Nobody works at {time}: the hours of this day are {hours}." }
    done_only_if_others_wait() { "It is done by the end of this day only if other pairs wait for it." }
    done_only_if_late_instead(pairs: &str) {
        "It is done by the end of this day only if others wait. Late instead: {pairs}."
    }
    this_day_is_full() { "This day is full." }
    not_done_by_end_of_this_day() { "It cannot be done by the end of this day." }
    done_by_end_of_this_day(of_ten: f64) {
        "By the end of this day it would be done in {of_ten:.0} of 10 cases."
    }
}
