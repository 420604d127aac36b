//! Sentences of Records, and the pages of a ticket and a customer.

use crate::sentence::sentences;

sentences! {
    title() { "Records" }
    not_collected() { "Not collected" }
    search() {
        british "Number, name, last digits, maker, colour, note",
        american "Number, name, last digits, maker, color, note",
    }
    found() { "Found" }
    no_pair_answers() { "No pair answers to that. Try one word, or the last digits alone." }
    also_found_by() { "Findings, work, measurements and goods sold are searched too." }
    customers_without_a_pair() { "Customers without a pair" }
    sold_without_a_pair() { "Sold without a pair" }
    newest_shown(count: usize) { "The newest {count}. Type more to find others." }
    due_for_a_check() { "Due for a check" }
    pairs_due_for_a_check(count: usize) { "Due for a check: {count}" }
    check_on(day: &str) { "Check: {day}" }

    history() { "History" }
    makes_good(work: &str, earlier: &str) { "Makes good, at no charge: {work} of {earlier}." }
}
