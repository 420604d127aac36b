//! Sentences of a pair that came back with a complaint.

use crate::sentence::sentences;

sentences! {
    complaint() { "Complaint" }
    no_such_job() { "This job is not on this device. Sync in Shop, or find the pair in Records." }

    earlier_work() { "Earlier work" }
    what_was_done() { "What was done" }
    work_on_both_shoes(work: &str) { "{work}, both" }
    agreed_but_not_noted_as_done() { "agreed, not noted as done" }
    left_the_shop(day: &str) { "It left the shop: {day}." }
    guarantee(terms: &str) { "Guarantee: {terms}" }
    photograph_number(number: usize) { "Photograph {number}" }

    what_it_is_about() { "What it is about" }
    say_what_it_is_about() { "Say first what it is about." }
    work() { "Work" }
    what_the_customer_says() { "What the customer says" }
    day_promised() { "Day promised" }
    take_it_in_again() { "Take it in again" }
    cause_if_known() { "Cause, if known" }
    cause_can_wait() { "It can be set at the bench." }
    cause_our_work() { "Our work" }
    cause_material() { "Material" }
    cause_bond() { "The cement let go" }
    cause_seam() { "A seam opened" }
    cause_fit() { "It does not fit as before" }
    cause_colour() {
        british "The colour is not right",
        american "The color is not right",
    }
    cause_not_as_agreed() { "Not done as agreed" }
    cause_hidden_damage() { "Damage nobody had seen" }
    cause_use() { "How it was worn or kept" }
    cause_wear() { "Wear" }
    cause_elsewhere() { "Something else" }

    // At the bench.
    why_it_did_not_hold() { "Why did it not hold?" }
    cause_is(cause: &str) { "Cause: {cause}." }
    cause_is_open() { "The cause is open again." }
}

// The share of the work that had to be done again.
sentences! {
    done_again() { "Work done again" }
    what_counts_as_done_again() {
        british "Counted is what was made again before the pair left, and what came back for a cause of ours: work, \
                 material, cement, seam, fit, colour, or not as agreed. Behind each share: between which it lies with \
                 95 in 100.",
        american "Counted is what was made again before the pair left, and what came back for a cause of ours: work, \
                  material, cement, seam, fit, color, or not as agreed. Behind each share: between which it lies with \
                  95 in 100."
    }
    /// Above the ways to group it.
    done_again_by() { "Work done again, by" }
    by_cement() { "By cement" }
    by_sole() { "By sole" }
    share_done_again(again: u32, done: u32, percent: f64, low: f64, high: f64) {
        "{again} of {done}: {percent:.0} %, between {low:.0} and {high:.0} %"
    }
    too_few_to_tell(again: u32, done: u32) { "{again} of {done}: too few to tell" }
    nothing_counted() { "Nothing is counted yet. It begins with the first pair that is handed over." }
    complaints_without_cause(count: u32) {
        one "1 complaint has no cause yet, and is not counted.",
        many "{count} complaints have no cause yet, and are not counted.",
    }
}
