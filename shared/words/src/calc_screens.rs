//! Sentences of the screens around the calculations.

use crate::sentence::sentences;

sentences! {
    calculation() { "Work out" }
    no_such_calculation() { "There is no such calculation. Go back to the work and choose one from its list." }
    no_such_job() { "This job is not on this device. Sync in Shop, or find the pair in Records." }
    clock_unreadable() { "The clock of this device cannot be read. Set its time, then open this again." }
    result() { "What to do" }
    inputs() { "What is known" }
    more_inputs() { "More: usual values are filled in" }

    choice(asked: &str) { "{asked}:" }
    number_in_unit(asked: &str, unit: &str) { "{asked}, {unit}" }
    less(asked: &str) { "{asked}: less" }
    more(asked: &str) { "{asked}: more" }

    save_on_pair() { "Save on the pair" }
    saved_on_pair() { "Saved on the pair." }
    back_to_work() { "Work" }
    start_wait(length: &str) { "Start the wait: {length}" }
    waiting() { "Waiting." }
    measured() { "Measured" }
    measured_before(what: &str, said: &str) { "{what}: {said}" }
    photograph_swatch() { "Photograph the swatch" }

    tap_to_measure() { "Tap on it to measure" }
    photograph_card_first() { "Take a photograph first, with a card lying flat beside what is measured." }
    what_lies_beside() { "What lies beside it" }
    /// Before the things to choose from.
    beside_it_lies() { "Beside it lies:" }
    undo_last_point() { "Undo the last point" }
    another_photograph() { "Another photograph" }

    tap_to_compare() { "Tap on it to compare" }
    photograph_colours_first() {
        british "Take a photograph first, with both colours and a white card in the same light.",
        american "Take a photograph first, with both colors and a white card in the same light."
    }
    white_card_light() { "Light the white card gives back, %" }
    white_card_advice() {
        british "Its maker says how much. Both colours and the card belong in one picture, in daylight, without shine; \
                 a wet dye dries lighter.",
        american "Its maker says how much. Both colors and the card belong in one picture, in daylight, without shine; \
                  a wet dye dries lighter."
    }

    ask_for_parts() { "Say how many parts of what." }
    try_dye_first() { "Try it on a hidden place or a scrap first. Gloves, fresh air, no flame near spirit dye." }
    parts_of_ingredient(row: usize) { "Parts {row}" }
    ingredient(row: usize) { "Of what {row}" }
    another_ingredient() { "Another part" }

    left_from_below() { "Left, from below" }
    right_from_below() { "Right, from below" }
    side_view() { "From the side, now and dashed as it will be" }
    side_view_explained() { "From the side: heel seat left, tread right; dashed, as it will be" }
    print_to_scale() { "Print it, true to scale" }
    check_bar() { "A bar of 100 mm" }
    check_bar_on_paper(length: &str) { "The bar is {length} on paper." }
    ask_for_printed_bar() { "On my paper the bar measures" }
    read_in_other_unit(typed: &str, length: &str) { "Read as {typed}, that is {length}." }
    true_to_scale() { "True to scale." }
    not_to_scale(percent: f64) { "Not true: print at {percent} % of this." }
}
