//! Sentences of a pair's own page: its head, its jobs, what was fitted, what comes next.

use crate::sentence::sentences;

// The page and its head.
sentences! {
    pair() { "Pair" }
    no_such_pair() { "This pair is not on this device. Sync in Shop, or look for it in Records." }
    compare_photographs() { "Compare two photographs" }
    photographed_on(photograph: &str, day: &str) { "{photograph}, {day}" }
    more_of_the_pair() { "More" }
    /// The way to the work on the pair that is in the shop.
    to_its_work() { "Work" }
    call(phone: &str) { "Call {phone}" }
    take_in_again() { "Take it in again" }
    everything_of_this_customer() { "Everything of theirs" }
    pair_as_brought() { "The pair as it was brought" }
    correct_details() { "Correct what is written" }
    what_it_is() { "What it is" }
    colour() { british "Colour", american "Color" }
    maker() { "Maker" }
    customer_name() { "Customer's name" }
    telephone() { "Telephone" }
    further_numbers() { "Further telephone numbers" }
    email() { "E-mail" }
    postal_address() { "Address" }
    remark_on_customer() { "Remark on the customer" }
    save() { "Save" }
    corrected() { "Corrected." }
}

// Erasing the customer.
sentences! {
    forget_customer() { "Forget this customer" }
    what_is_erased() {
        "Erases name, telephone and everything written on the customer: here, on the server, in search, on every device \
         that syncs, and in backups that are restored. Their sections are taken off the care card. The pairs and the \
         work on them stay. It cannot be undone."
    }
    when_it_is_erased() {
        "It is erased once the server has this. Of more than five customers in a day, erasing is asked for: it follows after \
        two days, unless it is called off."
    }
    looking_for_mentions() { "Looking for their name and telephone number in everything else that was written …" }
    mentioned_nowhere() { "Nothing else on this device mentions them." }
    /// Stands above the list of [`mentions`].
    mentioned_here() {
        "This mentions them too. Of what is ticked, the mention is taken out and the rest of the text stays; the \
        section of a care card is taken away whole."
    }
    mentions() { "Mentions of this customer" }
    /// Stands above the list of [`perhaps_mentions`].
    perhaps_mentioned_here() {
        "Only a word of their name stands here: it may be about somebody else. Tick what is about this customer."
    }
    perhaps_mentions() { "Perhaps about somebody else" }
    only_words_are_searched() { "Voice notes and photographs are not searched." }
    erase_for_good() { "Erase for good" }
    erased() { "Erased." }
    erased_on_the_only_device() { "Erased on this device. It is in no other place, unless a backup has it." }
    erased_once_the_server_has_it() { "It is erased once the server has this." }
    erased_later_others_hear_later() {
        "It is erased once the server has this, and on the other devices when they next sync."
    }
    erased_later_not_yet_on(devices: &str) {
        "It is erased once the server has this. To hear of it when they next sync: {devices}"
    }
    to_be_erased() { "To be erased" }
    erasure_is_asked_for() { "Asked for. It is erased in two days, unless it is called off." }
    customer_asked_for(asked: &str) { "The customer, asked for on {asked}." }
    customer_erased_from(asked: &str, due: &str) { "The customer, asked for on {asked}: to be erased from {due} on." }
    photograph_asked_for(asked: &str) { "A photograph, asked for on {asked}." }
    photograph_destroyed_from(asked: &str, due: &str) { "A photograph, asked for on {asked}: to be deleted from {due} on." }
    call_it_off() { "Call it off" }
    called_off() { "Called off: it stays." }
}

// Records of the same thing.
sentences! {
    perhaps_the_same() { "Perhaps the same" }
    perhaps_the_same_pair(number: &str, title: &str) { "Perhaps the same pair: {number} {title}" }
    perhaps_the_same_customer(name: &str, phone: &str) { "Perhaps the same customer: {name} {phone}" }
    they_are_one() { "They are one" }
    joined() { "Joined. It can be taken apart again below." }
    joined_from_two() { "Joined from two records." }
    take_apart() { "Take them apart" }
    taken_apart() { "Taken apart." }
}

// What comes next, and how the pair wore.
sentences! {
    forecast() { "Forecast" }
    next_to_look_at() { "Next to look at" }
    /// Stands between the name of the part and what the forecast rests on, which are elements of their own.
    look_at_it(when: &str) { ": look at it {when}; " }
    how_it_wore() { "How it wore" }
    measured_on(length: &str, day: &str) { "{length} on {day}" }
    readings_of(quantity: &str, readings: &str) { "{quantity}: {readings}." }
    no_change() { "no change" }
    no_change_in(time: &str) { "no change in {time}" }
    less(length: &str) { "{length} less" }
    less_in(length: &str, time: &str) { "{length} less in {time}" }
    more(length: &str) { "{length} more" }
    more_in(length: &str, time: &str) { "{length} more in {time}" }
}

// The parts that were fitted.
sentences! {
    parts_fitted() { "Parts fitted" }
    no_longer_on(count: usize) { "No longer on: {count}" }
    terms(terms: &str) { "Terms: {terms}" }
    terms_of_each(terms: &str) { "Terms, of each: {terms}" }
    on_since(day: &str) { "on since {day}" }
    on_since_and_for(day: &str, so_far: &str) { "on since {day}, {so_far}" }
    lasted_until(time: &str, day: &str) { "lasted {time}, until {day}" }
    /// Follows the work, or the day on which it was done.
    by_person(name: &str) { ", by {name}" }
    /// Follows the work and the person.
    with_materials(materials: &str) { ", with {materials}" }
    /// Follows what the note is about.
    and_note(note: &str) { ". {note}" }
    was_this_ours() { "Was this ours?" }
    tap_the_part() { "Tap the part. A mark: something of it is ours." }
    /// Follows the name of a part in a drawing.
    fitted_by_us() { ", fitted by us" }
    another_part() { "Another part" }
    ours() { "Ours." }
    was_ours() { "It was ours, and has come off since." }
    worked_on_by_us() { "Not fitted by us; we have worked on it." }
    not_ours() { "Not ours: nothing is written down that we did to it." }
}

// A job: its head and the headings of its lists.
sentences! {
    /// A visit in a line: when the pair was brought, and for what.
    brought_for(day: &str, work: &str) { "{day}: {work}" }
    job(number: &str) { "Job {number}" }
    job_without_number() { "Job without a number" }
    without_number() { "without a number" }
    ready_to_collect() { "ready to collect" }
    in_the_shop() { "in the shop" }
    given_back_as_it_was() { "given back as it was" }
    handed_over() { "handed over" }
    shelf(place: &str) { "shelf {place}" }
    agreed_differently() { "Agreed differently on two devices: ask which holds." }
    agreed_work() { "Agreed work" }
    what_it_is_made_like() { "What it is made like" }
    what_was_seen() { "What was seen" }
    must_go_back_in() { "Must go back in" }
    /// Above the parts that are in their place again.
    taken_off_and_put_back() { "Taken off and put back" }
    kept_for_the_customer() { "Kept for the customer" }
    questions() { "Questions" }
    money() { "Money" }
    work() { "Work" }
    measured() { "Measured" }
    notes() { "Notes" }
    notes_on_its_ticket() { "Notes on its ticket" }
    destroyed_photographs() { "Photographs that were deleted" }
    checked_before_it_left() { "Checked before it left" }
    newer_entries(count: usize) { "{count} entries made by a newer app, kept as they are." }
    camera() { "Camera" }
    opening_up() { "Opening up" }
    ask() { "Ask" }
    pickup() { british "Collection", american "Pickup" }
    care_card() { "Care card" }
    complaint() { "Complaint" }
}

// The lines of a job's lists.
sentences! {
    as_guessed(construction: &str) { "As guessed: {construction}" }
    as_opened(construction: &str) { "As opened: {construction}" }
    as_it_left(construction: &str) { "As it left: {construction}" }
    came_with(things: &str) { "Came with: {things}" }
    sold_on_its_ticket(goods: &str, amount: &str) { "Sold on its ticket: {goods}, {amount}" }
    paid_for_its_ticket(payment: &str, amount: &str) { "{payment} {amount}, for its ticket" }
    when_and_who(when: &str, name: &str) { "{when}, {name}" }
    destroyed(photograph: &str) { "{photograph}: deleted" }
    taken(when_and_who: &str) { "taken {when_and_who}" }
    no_charge() { "no charge" }
    no_charge_as_needed(worth: &str) { "no charge, needed, worth {worth}" }
    no_charge_by_choice(worth: &str) { "on the house, worth {worth}" }
    skipped() { "(skipped)" }
    part_and_condition(part: &str, condition: &str) { "{part} {condition}" }
    /// Follows the damage.
    damage_kept() { ": kept" }
    /// Follows the damage.
    damage_mended() { ": mended" }
    /// Follows the damage.
    damage_replaced() { ": replaced" }
    /// Follows the damage.
    damage_left() { ": left as it is" }
    /// Follows the damage.
    damage_accepted() { ": there already, accepted as it is" }
    /// Follows the damage and what was decided about it.
    customer_pays() { ", customer pays" }
    /// Follows the damage and what was decided about it.
    shop_pays_as_needed() { ", no charge, needed" }
    /// Follows the damage and what was decided about it.
    shop_pays_by_choice() { ", on the house" }
    done(work: &str) { "Done: {work}" }
    done_and_made_again(work: &str) { "Done: {work} (made again)" }
    done_and_made_again_with_scrap(work: &str, scrap: &str) { "Done: {work} (made again, scrap: {scrap})" }
    done_with_note(done: &str, note: &str) { "{done}: {note}" }
    answer_yes() { "yes" }
    answer_no() { "no" }
    nobody_reached() { "nobody was reached" }
    to_be_called_again() { "to be called again" }
    goes_back_as_it_is() { "goes back as it is" }
    no_answer_yet() { "no answer yet" }
    asked(question: &str, answer: &str) { "Asked: {question} ({answer})" }
    asked_to_choose(question: &str, answer: &str, choice: &str) { "Asked: {question} ({answer}: {choice})" }
}
