//! Sentences of the Bench: pairs, selection, the plan beside them.

use crate::sentence::sentences;

sentences! {
    screen_name() { "Bench" }
    starting_new_version() { "Starting the new version …" }
    restart_with_new_version() { "Restart with the new version" }
    stations() { "Stations" }
    due_today_or_late() { "Due today or late" }
    pair_is_due(pair: &str) { "Due: {pair}" }

    late_or_at_risk() { "Late or at risk" }

    // Nothing is in the shop.
    nothing_is_in_the_shop() { "Nothing is in the shop." }
    name_and_hours() { "The shop's name and hours" }
    take_a_pair_in() { "Take a pair in" }
    join_a_shop_that_has_begun() { "Join a shop that has begun already" }

    // Entries that are on this device only.
    only_on_this_device_so_far(entries: u64, pictures: u64) {
        "Only on this device so far: entries {entries}, pictures {pictures}."
    }
    records_only_on_this_device() { "These records are only on this device. Back them up, or join a shop." }
    /// Stands before their number, which is an element of its own; [`photographs_being_saved_end`] stands after it.
    photographs_being_saved() { "Photographs being saved: " }
    /// Stands after the number that [`photographs_being_saved`] stands before.
    photographs_being_saved_end() { "." }

    // The run to do now.
    planning() { "Planning" }
    planning_what_to_do() { "Planning what to do now." }
    plan_is_preliminary() { "The shop's log is still arriving on this device, so the plan may change." }
    no_plan_now(why: &str) { "No plan now: {why}. The pairs stand in the order of their days." }
    run_now(station: &str) { "Now: {station}" }
    run_next(station: &str) { "Next: {station}" }
    run_under_way(station: &str) { "Under way: {station}" }
    final_check() { "Final check" }
    check_pair(pair: &str) { "Check {pair}" }
    pair_in_this_run(pair: &str) { "In this run: {pair}" }
    photograph_this_run() { "Photograph this run" }
    begin_this_run() { "Begin this run" }
    run_is_begun() { "The run is begun." }
    not_these_now() { "Not these now" }
    put_off() { "Put off for three hours, or until you plan from now." }
    interrupted_plan_from_now() { "Interrupted: plan from now" }
    planned_from_now() { "Planned from now." }
    wet_soles() { "Wet soles" }
    soles_are_wet(time: &str) { "Soles are wet; ready in {time}" }
    cement_is_on() { "Cement is on" }
    cement_is_on_and_dries(time: &str) { "Cement is on; drying {time}" }
    first_part_is_done_and_dries(time: &str) { "First part is done; drying {time}" }
    this_run_is_done() { "This run is done" }
    this_run_is_done_and_dries(time: &str) { "This run is done; drying {time}" }
    /// The notice after a tap on a button that says what is done.
    run_noted(done: &str) { "{done}." }

    // Pairs at risk.
    no_promised_day_is_missed() { "As planned, no promised day is missed." }
    /// Stands before the names of the pairs.
    at_risk() { "At risk: " }
    /// Stands before the names of the pairs.
    not_planned() { "Not planned: " }
    pair_is_at_risk(pair: &str) { "At risk: {pair}" }
    do_this_pair_first(pair: &str) { "Do this first: {pair}" }
    done_first_from_now_on() { "Done first from now on." }
    back_among_the_others() { "Back among the others." }

    // The picked pairs.
    picked_pairs() { "Picked pairs" }
    /// Unfolds what is done with picked pairs more rarely.
    more_for_these() { "More" }
    photograph_these(count: usize) { one "Photograph this one", many "Photograph these {count}" }
    start_a_wait_for_all() { "Start a wait for all" }
    these_wait(count: usize) { one "Waiting: this one.", many "Waiting: these {count}." }
    pick_none() { "Pick none" }
    /// Stands before the operation, which is an element of its own.
    done_for_these(count: usize) { one "Done for this one: ", many "Done for these {count}: " }
    noted_for_these(count: usize, operation: &str) {
        one "{operation} done for this one.", many "{operation} done for these {count}."
    }
    nothing_left() { "Nothing left" }
    next_of_each() { "Next of each" }
    do_first() { "Do first" }
    no_longer_first() { "No longer first" }

    // A row.
    in_this_run() { "in this run" }
    pick(pair: &str) { "Pick {pair}" }
    photograph(pair: &str) { "Photograph {pair}" }
    call_again(when: &str) { "call again {when}" }
    on_shelf(shelf: &str) { "shelf {shelf}" }
    next_and_more(operation: &str, more: usize) { "{operation}, then {more} more" }
    next_and_done(next: &str, done: &str) { "next {next}, done {done}" }
    promised_for(day: &str) { "for {day}" }
    customer_and_promise(customer: &str, day: &str) { "{customer}, for {day}" }
    first() { "First" }
    customer_waits() { "Customer waits" }
    rush() { "Rush" }
    complaint() { "Complaint" }
    goes_back_as_it_is() { "Goes back as it is" }
    agreed_differently() { "Agreed differently on two devices" }
    dry() { "Dry" }
    cement_open_until(time: &str) { "join by {time}, else reheat or recoat" }
    cement_has_closed() { "cement has closed: reheat or recoat" }
}
