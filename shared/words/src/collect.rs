//! Sentences of what is due, the ready notice and what waits to be collected.

use crate::sentence::sentences;

// A ticket.
sentences! {
    ticket() { "Ticket" }
    no_such_ticket() { "This ticket is not on this device. Sync in Shop, or find its pair in Records." }
    promised_day(day: &str) { "for {day}" }
    stub_and_tags() { "Stub and tags" }
    has_left_the_shop() { "has left the shop" }
    ready() { "ready" }
    ready_on_shelf(place: &str) { "ready, shelf {place}" }
    not_checked_yet() { "not checked yet" }
    hand_over_ready(count: usize) {
        one "Hand over the one that is ready", many "Hand over the {count} that are ready"
    }
}

// Its account.
sentences! {
    money() { "Money" }
    due() { "Due" }
    agreed_work() { "Agreed work" }
    tax_on_top(rate: &str) { "Tax {rate} %" }
    tax_included(rate: &str) { "Tax in it {rate} %" }
    total() { "Total" }
    paid_so_far() { "Paid" }
    due_for_goods() { "Due for goods" }
    due_for_what_has_left() { "Due for what has left" }
    due_for_this_pair() { "Due for this pair" }
    due_for_this_pair_and_what_has_left() { "Due for this pair and what has left" }
    due_for_ready_pairs(count: usize) {
        one "Due for the one that is ready", many "Due for the {count} that are ready"
    }
    due_for_ready_pairs_and_what_has_left(count: usize) {
        one "Due for the one that is ready and what has left",
        many "Due for the {count} that are ready and what has left",
    }
    due_for_all(pairs: usize) { one "Due", many "Due for all {pairs} pairs" }
    /// The whole of a ticket with goods, below what is due for a part of it.
    due_in_all() { "Due in all" }
    to_give_back() { "To give back" }
    extras() { "Extras" }
    extras_at_no_charge() { "Extras, at no charge" }
    gift_worth(work: &str, amount: &str) { "{work}, worth {amount}" }
    gift_as_needed() { "needed" }
    gift_by_choice() { "on the house" }
    payments() { "Payments" }
    deposit() { "Deposit" }
    given_back() { "Given back" }
    paid() { "Paid" }
    payment_of(payment: &str, amount: &str) { "{payment} {amount}" }
    withdraw_entry() { "Withdraw the entry" }
    /// The accessible name of [`withdraw_entry`].
    withdraw_payment(payment: &str, amount: &str) { "Withdraw the entry: {payment} {amount}" }
}

// Paying.
sentences! {
    pay_all(pairs: usize, amount: &str) {
        one "Paid now: {amount}", many "Paid now: {amount}, for all {pairs} pairs"
    }
    give_back_all(pairs: usize, amount: &str) {
        one "Given back: {amount}", many "Given back: {amount}, for all {pairs} pairs"
    }
    pay_for_goods(amount: &str) { "Paid now: {amount}, for goods" }
    pay_in_all(amount: &str) { "Paid now: {amount}, in all" }
    pay_for_what_has_left(amount: &str) { "Paid now: {amount}, for what has left" }
    pay_for_this_pair(amount: &str) { "Paid now: {amount}, for this pair" }
    pay_for_this_pair_and_what_has_left(amount: &str) { "Paid now: {amount}, for this pair and what has left" }
    pay_for_ready_pairs(count: usize, amount: &str) {
        one "Paid now: {amount}, for the one that is ready", many "Paid now: {amount}, for the {count} that are ready"
    }
    pay_for_ready_pairs_and_what_has_left(count: usize, amount: &str) {
        one "Paid now: {amount}, for the one that is ready and what has left",
        many "Paid now: {amount}, for the {count} that are ready and what has left",
    }
    noted() { "Noted." }
    nothing_is_due() { "Nothing is due." }
    nothing_is_due_for_this_pair() { "Nothing is due for this pair." }
    another_amount() { "Another amount" }
    amount_paid() { "Amount paid" }
    this_was_paid() { "This was paid" }
    more_than_is_due(due: &str) { "That is more than is due: {due}. Type no more than that." }
    not_an_amount() { "That is not an amount. Write it like 45 or 45.50." }
}

// Goods over the counter.
sentences! {
    sold() { "Sold" }
    sell_something() { "Sell something" }
    /// The accessible name of [`withdraw_entry`].
    withdraw_goods(goods: &str) { "Withdraw the entry: {goods}" }
}

// Promising another day.
sentences! {
    promise_another_day() { "Promise another day" }
    day_promised() { "Day promised" }
    ready_from() { "Ready from (if said)" }
    this_day_is_agreed() { "This day is agreed" }
    which_day_is_agreed() { "Which day is agreed?" }
    already_promised_for_that_day() { "It is promised for that day." }
    was_promised_for(day: &str) { "Promised for {day}." }
}

// What is ready.
sentences! {
    tell_the_customer() { "Tell the customer" }
    ready_notice() { "Ready notice" }
    notice_copied() { "Copied: paste it into a message." }
    pairs_not_ready_yet(count: usize) {
        one "1 pair of the ticket is not ready yet.", many "{count} pairs of the ticket are not ready yet."
    }
    pair_with_number(pair: &str, number: &str) { "{pair} ({number})" }
    ready_and_not_collected() { "Ready and not collected" }
    nothing_waits() { "Nothing is waiting to be collected. A pair comes here once its final check is finished." }
    waiting() { "Waiting" }
    promised_for(day: &str) { "Promised for {day}" }
}
