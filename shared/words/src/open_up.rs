//! Sentences of opening a pair up: findings, the construction key, the drawing.

use crate::sentence::sentences;

sentences! {
    screen_name() { "Opening up" }
    tap_the_part() { "Tap the part." }
    ask_the_customer() { "Ask the customer" }
    every_part_by_name() { "Every part by name" }

    // The drawings.
    shoe_from_the_side() { "The shoe from the side" }
    sole_and_heel_from_below() { "Sole and heel from below" }
    layers_of_the_sole() { "What lies between foot and sole" }
    shoe_inside_and_fastenings() { "The inside, and fastenings" }
    /// Follows the name of the part, in [`marked_part`].
    something_is_noted() { ", something is noted" }
    /// The accessible name of a part on a drawing, and what its mark means.
    marked_part(part: &str, mark: &str) { "{part}{mark}" }

    // A finding.
    part_and_condition(part: &str, condition: &str) { "{part}: {condition}" }
    finding_noted(part: &str, condition: &str) { "{part}: {condition}, noted." }
    not_this_part() { "Not this part" }
    photograph_it() { "Photograph it" }
    on_which_shoe() { "On which shoe" }
    what_is_wrong() { "What is wrong?" }
    what_is_done() { "What is done?" }
    keep() { "Keep, still good" }
    mend() { "Mend" }
    replace() { "Replace" }
    leave() { "Leave for now" }
    who_pays() { "Who pays?" }
    customer_pays() { "Customer" }

    // A part or a condition that is not in the list, and its name once it is known.
    part_not_in_the_list() { "A part that is not in the list" }
    what_you_call_it() { "What you call it" }
    take_this_part() { "Take this part" }
    something_else() { "Something else" }
    wrong_in_your_words() { "What is wrong, in your words" }
    take_these_words() { "Take these words" }
    name_it() { "Name it" }
    /// The accessible name of [`name_it`].
    name_finding(finding: &str) { "Name it: {finding}" }
    part_is() { "Part" }
    wrong_is() { "What is wrong" }
    save_the_name() { "Save the name" }
    finding_named(part: &str, condition: &str) { "{part}: {condition}, named." }

    // What is noted.
    noted() { "Noted" }
    kept_for_the_customer() { "Kept for the customer" }
    withdraw() { "Withdraw" }
    finding_withdrawn() { "Finding withdrawn." }
    must_go_back_in() { "Must go back in" }
    is_back_in() { "Is back in" }
    stayed_in() { "Stayed in" }
    part_stayed_in(part: &str) { "{part} stayed in." }

    // The construction.
    how_it_is_made() { "How it is made" }
    as_guessed() { "As guessed" }
    as_opened() { "As opened" }
    as_it_leaves() { "As it leaves" }
    construction_not_known_yet() { "Not known yet" }
    construction_noted(label: &str, construction: &str) { "{label}: {construction}." }
    which_is_it() { "Which is it? By what can be seen" }
    from_the_beginning() { "From the beginning" }
    not_told_before_opening() { "It cannot be told before opening." }
    /// Stands before the construction, which is an element of its own.
    most_likely() { "Most likely: " }
    /// Stands before the signs for a guess.
    speaks_for_it() { "For it: " }
    /// Stands before the signs against a guess.
    speaks_against_it() { "Against it, if seen: " }
    /// Stands before how the sole can be replaced.
    a_new_sole() { "A new sole: " }
    /// Stands before what cannot be told before opening.
    not_before_opening() { "Not before opening: " }
    take_as_guess() { "Take it as the guess" }
}
