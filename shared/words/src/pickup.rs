//! Sentences of Pickup: the final check, the care card, handing over.

use crate::sentence::sentences;

// The page.
sentences! {
    pickup() { british "Collection", american "Pickup" }
    no_such_job() { "This job is not on this device. Sync in Shop, or find the pair in Records." }
    on_this_page() { "On this page" }
    to_check() { "Inspect" }
    to_card() { "Care card" }
    to_money() { "Pay" }
    to_handing_over() { "Handing over" }
    its_ticket(pairs: usize) { one "Its ticket", many "Its ticket: {pairs} pairs" }
}

// The final check.
sentences! {
    final_check() { "Final check" }
    checked_and_ready() { "Checked: ready to collect." }
    what_was_checked() { "What was checked" }
    withdraw_check() { "Withdraw the check" }
    checked() { "Checked" }
    put_back_in() { "Put them back" }
    not_back_in(parts: &str) { "Not back in: {parts}." }
    still_drying(time_left: &str) { "Still drying: {time_left}." }
    came_with(things: &str) { "Came with: {things}." }
    for_the_customer(parts: &str) { "Old parts for the customer: {parts}." }
    cemented_not_yet_to_wear(since: u32, left: u32) {
        "Hours since cementing: {since}. Not to be worn for another {left}."
    }
    cemented_may_be_worn(since: u32) { "Hours since cementing: {since}. It may be worn." }
    shelf() { "Shelf" }
    put_on_shelf() { "Put there" }
    was_put_on_shelf() { "Put there." }
}

// The contents of the card.
sentences! {
    what_stands_on_the_card() { "What stands on the card" }
    on_the_card() { "On the card" }
    photograph(number: usize) { "Photograph {number}" }
    show_photograph(number: usize) { "Show photograph {number}" }
    photograph_it_finished() { "Photograph it finished" }
    not_quite_a_match() { "Not quite a match" }
    notes_for_the_card() { "Notes for the card" }
    notes_as_written() { "Only what is ticked is on the card, as it is written. Voice notes never are." }
    advice() { "Advice" }
    the_price() { "The price" }
    next_check() { "Next check" }
    next_check_is() { "Next check:" }
    months_until_check(months: u32) { one "1 month", many "{months} months" }
    no_next_check() { "None" }
    check_as_it_wears(when: &str) { "As it wears: {when}" }
    part_and_why(part: &str, rests_on: &str) { "{part}, {rests_on}" }
    card_as_the_customer_will_see_it() { "The card as the customer will see it" }
}

// Publishing, printing and passing on the card.
sentences! {
    publish_card() { "Publish the card" }
    published() { "Published. The page appears when the server has it." }
    print_card() { "Print the card" }
    save_card_as_file() { "Save the card as a file" }
    file_could_not_be_made() { "This browser could not make the file. Print the card instead." }
    care_card() { "Care card" }
    nothing_published_yet() { "Nothing has been published yet." }
    card_was_withdrawn() { "The card has been withdrawn." }
    card_is_published() { "The card is published." }
    care_card_of_your_pair() { "The care card of your pair" }
    pass_link_on() { "Pass the link on" }
    withdraw_card() { "Withdraw the card" }
    card_withdrawn() { "Withdrawn." }
}

// Handing over.
sentences! {
    hand_over() { "Hand over" }
    give_back_unrepaired() { "Give back unrepaired" }
    handed_over() { "Handed over." }
    something_still_due() { "Something is still due: ask a repairer." }
    still_due(amount: &str) { "Still due for this pair: {amount}" }
    still_due_with_what_has_left(amount: &str) { "Still due for this pair and what has left: {amount}" }
    has_left_the_shop(when: &str) { "It has left the shop: {when}." }
    withdraw_hand_over() { "Withdraw the hand-over" }
    in_the_shop_again() { "It is in the shop again." }
    complaint() { "Complaint" }
}
