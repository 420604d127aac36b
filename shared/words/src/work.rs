//! Sentences of work at a station, and what dries.

use crate::sentence::sentences;

sentences! {
    screen_name() { "Work" }
    no_such_job() { "This job is not on this device. Sync in Shop, or find the pair in Records." }
    do_this_first() { "Do this first" }
    more() { "More" }
    /// The accessible name of [`more`] beside one of several things.
    more_about(what: &str) { "More, {what}" }
    measured() { "Measured" }
    how_thick_still() { "How thick is it still?" }
    camera() { "Camera" }
    ask() { "Ask" }
    pickup() { british "Collection", american "Pickup" }
    its_ticket() { "Its ticket: day and money" }
    /// Goods that were sold on the ticket of a job and are handed over with the pair.
    with_it(goods: &str) { "With it: {goods}" }

    // Adding work.
    add_work() { "Add work" }
    work_to_add() { "Work to add" }
    on_which_shoe() { "On which shoe" }
    price_or_worth() { "Price, or what it is worth" }
    at_this_price() { "At this price" }
    no_charge_needed() { "No charge: needed" }
    on_the_house() { "On the house" }
    not_an_amount() { "This is not an amount: write it like 45 or 45.50." }
    added(operation: &str) { "{operation} added." }

    // What holds the job.
    what_holds_it() { "What holds it" }
    /// Stands before the question that the customer was asked.
    waiting_for_the_customer() { "Waiting for the customer: " }
    what_they_said() { "What they said" }
    agreed_differently() { "Agreed differently on two devices: ask which holds." }
    start_a_wait() { "Start a wait" }
    waiting() { "Waiting." }
    waiting_for_material() { "Waiting for material" }
    drying() { "Drying" }
    its_time_is_over() { "its time is over" }
    over_now() { "Over now" }
    wait_over_now(wait: &str) { "{wait}: over now" }
    wait_is_over(wait: &str) { "{wait}: over." }
    /// Stands before the name of the part.
    part_must_go_back_in() { "Must go back in: " }
    is_back() { "Is back" }
    /// The accessible name of [`is_back`].
    part_is_back(part: &str) { "{part} is back" }
    part_put_back(part: &str) { "{part} is back." }
    /// Stands before the name of the part.
    part_kept_for_the_customer() { "For the customer: " }
    not_kept() { "Not kept" }
    /// The accessible name of [`not_kept`].
    part_not_kept(part: &str) { "{part}: not kept" }
    part_is_not_kept(part: &str) { "{part} is not kept." }

    // What is left to do.
    still_to_do() { "Still to do" }
    checked_and_ready() { "It is checked and ready." }
    only_final_check_left() { "Nothing is left but the final check." }
    done() { "Done" }
    operation_done(operation: &str) { "{operation}: done" }
    operation_noted(operation: &str) { "{operation} noted." }
    sooner() { "Sooner" }
    operation_sooner(operation: &str) { "{operation}: sooner" }
    later() { "Later" }
    operation_later(operation: &str) { "{operation}: later" }
    operation_moved(operation: &str) { "{operation} moved." }
    skip() { "Skip" }
    skip_operation(operation: &str) { "{operation}: skip" }
    operation_skipped(operation: &str) { "{operation} skipped." }
    skipped(operation: &str) { "Skipped: {operation}" }
    do_it_after_all() { "Do it after all" }
    operation_is_to_be_done(operation: &str) { "{operation} is to be done." }
    water_marks_some_materials() { "What is it made of? Water marks some leathers and satin." }
    heat_harms_some_materials() { "What is it made of? Heat melts or shrinks some soles and uppers." }
    cream_marks_some_materials() { "What is it made of? Cream marks suede and cloth." }
    solvent_harms_some_materials() { "What is it made of? Solvent takes off some finishes and softens some soles." }
    work_out() { "Work out" }
    /// The accessible name of [`work_out`].
    work_out_for(operation: &str) { "Work out, {operation}" }

    // What was done, and what has to be made again.
    steps_done() { "Done" }
    /// Above the photographs of the steps, in their order.
    steps_so_far() { "Steps so far" }
    /// Unfolds minutes, materials, cement and notes of each step.
    steps_in_detail() { "The steps in detail" }
    to_be_made_again() { "To be made again." }
    to_be_made_again_with_scrap(scrap: &str) { "To be made again. Scrap: {scrap}." }
    make_again() { "Make again" }
    make_step_again(operation: &str) { "{operation}: make again" }
    step_is_to_be_made_again(operation: &str) { "{operation} is to be made again." }
    what_is_scrap() { "What was cut or used twice, and so is scrap?" }
    scrap_is(material: &str) { "Scrap: {material}" }
    nothing_is_scrap() { "Nothing" }
    leather() { "Leather" }
    rubber() { "Rubber" }
    top_pieces() { british "Top pieces", american "Heel caps" }
    lining() { "Lining" }
    thread() { "Thread" }
    a_zip() { british "A zip", american "A zipper" }

    // What a step took.
    took_minutes(minutes: u32) { "{minutes} min" }
    took_about_minutes(minutes: u32) { "about {minutes} min" }
    minutes_not_known() { "minutes not known" }
    note_minutes(minutes: u32, operation: &str) { "{operation}: {minutes} minutes" }
    minutes_noted(minutes: u32, operation: &str) { "{operation}: {minutes} min." }
    what_was_used() { "What was used" }
    was_used(material: &str) { "{material} was used." }

    // With which cement a step was done.
    cement_named(cement: &str) { "Cement: {cement}" }
    cement_not_named() { "cement not named" }
    name_the_cement() { "Name the cement" }
    cement_noted(step: &str, cement: &str) { "{step}: {cement}." }
    no_cement_noted(step: &str) { "{step}: no cement is named." }

    // Notes.
    notes() { "Notes" }
    /// Unfolds the form for a note.
    note() { "Note" }
    a_word_about_it() { "A word about it" }
    save_the_note() { "Save the note" }
    note_saved() { "Note saved." }

    // What is not quite a match.
    not_quite_a_match() { "Not quite a match" }
    of_what() { "What is not quite a match?" }
    match_of_laces() { "Laces" }
    match_of_colour() { british "Colour", american "Color" }
    match_of_thread() { "Thread" }
    match_of_leather() { "Leather" }
    what_the_customer_reads() { "What the customer reads" }
    measured_difference() {
        british "Colour difference, if it was measured",
        american "Color difference, if it was measured",
    }
    not_a_difference() { "The difference is a number from 0 to 100, or nothing." }
    say_what_differs() { "Say what is not quite a match." }
    save_the_match() { "Save" }
    match_saved() { "Saved: the card says so." }
    withdraw_match() { "Withdraw" }
    match_withdrawn() { "Withdrawn: the card does not say so." }
    photograph_match() { "Photograph it" }
}
