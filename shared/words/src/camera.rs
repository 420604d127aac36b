//! Sentences of the camera.

use crate::sentence::sentences;

sentences! {
    camera() { "Camera" }
    photograph(pair: &str) { "Photograph {pair}" }
    take() { "Take" }
    /// What a screen reader says of [`take`].
    shutter(pair: &str) { "Photograph {pair}: take" }
    take_and_next() { "Take, next pair" }
    take_and_done() { "Take, to the Bench" }
    this_pair() { "this pair" }
    live_picture() { "What the camera sees" }
    system_camera() { "The phone's own camera" }
    system_camera_files_the_same() { "Use the phone's own camera; photographs are filed just the same." }

    back_to_question() { "Back to the question" }
    back_to_opening_up() { "Back to opening up" }
    back_to_work() { "Back to the work" }
    back_to_pickup() { british "Back to collection", american "Back to pickup" }
    next_pair() { "Next pair" }
    done_to_bench() { "Done, to the Bench" }

    operation() { "Operation" }
    step_done() { "Step done" }
    operation_noted(operation: &str) { "{operation} noted." }
    finished_pair() { "Finished pair" }
    timer() { "Timer 3 s" }
    ghost() { "Overlay last photo" }
    light() { "Light" }
    zoom(times: f64) { "Zoom {times:.0}×" }
    /// What [`zoom`] shows.
    zoom_factor(times: f64) { "{times:.0}×" }
    more_tools() { "More tools" }
    left_hand() { "Left hand" }

    /// The place of the pair in a run, before what [`saved_after_count`] ends.
    place_in_run(place: usize, of: usize) { "{place} of {of}: " }
    /// After the number of photographs, which stands in an element of its own.
    saved_after_count() { " saved" }
    /// The same, of those that are not saved yet; after [`saved_after_count`] and a comma.
    being_saved_after_count() { " being saved" }

    photograph_saved(pair: &str) { "Photograph of {pair} saved." }
    photograph_not_saved(pair: &str, why: &str) { "A photograph of {pair} was not saved: {why}." }
    pair_not_on_device() {
        "This photograph was not saved: its pair is not on this device. Sync in Shop, then take it again."
    }

    last_photographs() { "Last photographs" }
    move_photograph(number: u32, pair: &str) { "Move number {number}, of {pair}" }
    ask_which_pair(number: u32, pair: &str) { "Photograph {number} is filed under {pair}. Which pair does it show?" }
    right_where_it_is() { "It is right where it is" }
    undo_it() { "Undo it" }
    move_to(pair: &str) { "Move to {pair}" }
    moved_to(pair: &str) { "Moved to {pair}." }

    scan_tag() { "Scan a tag" }
    show_tag() { "Show the tag" }
    no_pair_answers(tag: &str) { "No pair in the shop answers to \"{tag}\". Scan the other tag, or type its number." }
}
