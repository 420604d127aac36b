//! Sentences of the plan's own sentences: what to do now, why, what is late, what would help.

use crate::sentence::sentences;

// What to do now, and why.
sentences! {
    run_begins_now(minutes: i64, until: &str) { "About {minutes} min, until {until}." }
    /// Soles that have to be wet for some hours before they are sewn; `pairs` are their numbers.
    wet_tonight(pairs: &str) { "Wet these soles tonight: {pairs}." }
    run_from_until(from: &str, until: &str) { "From {from} to {until}." }
    customer_waits(tag: &str) { "The customer of {tag} waits." }
    put_first_by_you(tag: &str) { "You put {tag} first." }
    cement_has_closed(tag: &str) { "The cement on {tag} has closed: reheat or recoat it." }
    cement_closes_before_run(tag: &str, closes: &str) {
        "The cement on {tag} closes {closes}, before that: join it by then, else reheat or recoat it."
    }
    cement_stays_open(tag: &str, until: &str) { "The cement on {tag} stays open until {until}." }
    pairs_in_one_go(pairs: usize) { "{pairs} in one go, without changing station." }
    sooner_promises_are_kept() { "What is promised sooner is in time all the same." }
}

// How certain it is that a promise is kept.
sentences! {
    safe() { "safe" }
    likely() { "likely" }
    tight() { "tight" }
    late() { "late" }
}

// What was promised.
sentences! {
    today() { "today" }
    tomorrow() { "tomorrow" }
    day_from_time(day: &str, time: &str) { "{day}, from {time}" }
    promised_for(tag: &str, day: &str) { "{tag} is promised for {day}." }
    late_already(tag: &str, day: &str) { "{tag} is late already: it was promised for {day}." }
}

// Late pairs, and what would help.
sentences! {
    done_later_than_promised(done: &str) { "Done {done}, later than promised." }
    cannot_be_done_before(done: &str) { "It cannot be done before {done}: tell the customer." }
    first_already() { "It is first already." }
    late_even_if_first() { "Even done first it would be late." }
    in_time_if_first() { "Done first it would be in time, and no other late." }
    in_time_if_first_but_late_instead(tags: &str) { "Done first it would be in time; late instead: {tags}." }
}

// Pairs that are not in the plan.
sentences! {
    /// The final check, in the place of an operation's name in a sentence.
    the_final_check() { "the final check" }
    no_hours_set() { "The shop has set no hours in which it could be done. Set them in Shop, Hours." }
    longer_than_any_opening(work: &str) { "{work} is longer than any time the shop is open." }
    never_open_to_join(work: &str) { "The shop is never open when {work} could be joined in time." }
    more_work_than_time(work: &str) {
        "{work} is not done before the plan ends: there is more work than time."
    }
    day_cannot_be_kept() { "Its day can no longer be kept: tell the customer." }
    must_restart_by(by: &str) { "Must restart by {by}, or its day is missed." }
}

// What has put another run in the place of one that was not done.
sentences! {
    came_in(tag: &str) { "{tag} has come in." }
    came_in_rush(tag: &str) { "{tag} has come in and is wanted soon." }
    no_longer_first(tag: &str) { "{tag} no longer comes first." }
    wanted_otherwise(tag: &str) { "{tag} is wanted sooner or later than before." }
    promised_otherwise(tag: &str) { "{tag} is promised for another time." }
    put_aside(tag: &str) { "{tag} was put aside." }
    taken_up_again(tag: &str) { "{tag} was taken up again." }
    interrupted() { "You were called away." }
    goes_on(tag: &str) { "{tag} goes on: the answer or the material has come." }
    held_up(tag: &str) { "{tag} waits for an answer or for material." }
    more_to_do(tag: &str) { "{tag} needs more work." }
    done_out_of_turn(tag: &str) { "Work on {tag} was done before its turn." }
    dries_otherwise(tag: &str) { "{tag} dries for longer or shorter than before." }
    is_dry(tag: &str) { "{tag} is dry." }
    took_longer(tag: &str) { "Work on {tag} took longer than planned." }
    other_pace() { "Work before it went faster or slower than planned." }
    no_longer_fits() { "What came next no longer fits before closing." }
    /// What a run was replaced for, with the time at which that happened.
    changed_at(time: &str, reason: &str) { "Changed at {time}: {reason}" }
}
