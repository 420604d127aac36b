//! Sentences of pieces that many screens use: fields, photographs, lists, the bar.

use crate::sentence::sentences;

sentences! {
    no_such_page() { "There is no such page. Go to the Bench, or to Records to find a pair." }
    try_again() { "Try again" }
    close() { "Close" }

    /// Back to the screen that was shown before.
    back() { "Back" }
    screens() { "Places" }
    bench() { "Bench" }
    drop_off() { "Drop-off" }
    records() { "Records" }
    shop() { "Shop" }

    hazards() { "What can hurt, and what protects" }
    hazard_code(code: &str, text: &str) { "{code}: {text}" }

    dry(pairs: &str) { "Dry: {pairs}." }
    not_in_shop() { "not in the shop" }
    working_now() { "Working now" }
    /// Before the names of the people.
    working_now_before_names() { "Working now:" }

    both_shoes() { "Both" }
    left_shoe() { "Left" }
    right_shoe() { "Right" }
    /// What a screen reader says of a choice: what is chosen, and for what.
    choice_about(choice: &str, about: &str) { "{choice}, {about}" }

    made_of() { "Made of" }
    upper() { "Upper" }
    sole() { "Sole" }
    lining() { "Lining" }
    lining_of(material: &str) { "{material} lining" }
    more_materials() { "More materials" }
    fewer_materials() { "Fewer materials" }

    variant_of(operation: &str) { "In what, {operation}" }
    /// That of a raise, as it was prescribed.
    height(height_mm: u32) { "{height_mm} mm" }
    prescribed_height_of(operation: &str) { "Height as prescribed, mm, {operation}" }
    how_many_of(operation: &str) { "How many, {operation}" }
    one_fewer(operation: &str) { "One fewer, {operation}" }
    one_more(operation: &str) { "One more, {operation}" }

    install_first() {
        "Put Waxend on the home screen first: it then starts without a network and keeps its records."
    }
    install() { "Put it on the home screen" }
    install_by_hand() {
        "Before the first record: tap Share, then Add to Home Screen, and open Waxend from there. \
         It has records of its own there; what is noted here before would stay behind in the browser."
    }

    hold_tag() { "Hold the tag before the camera: its number is filled in." }
    type_number(why: &str) { "{why}. Type the number." }
    close_camera() { "Close the camera" }

    look_at(photograph: &str) { "Look at: {photograph}" }
    photograph_elsewhere() {
        "This photograph is on the server or on another device; it cannot be had now. Try again once both have a network."
    }
    photograph_was_destroyed() { "This photograph was deleted, everywhere and for good." }
    close_photograph() { "Close" }
    /// The place of a photograph in its list.
    photograph_place(place: usize, of: usize) { "{place} of {of}" }
    previous_photograph() { "Previous photograph" }
    next_photograph() { "Next photograph" }
    zoom_in() { "Zoom in" }
    zoom_out() { "Zoom out" }
    more_about_photograph() { "More" }
    destroy() { "Delete…" }
    keep_photograph() { "Keep it" }
    warn_before_destroying() {
        "Deleted, it is gone for good: here, on the server, on every device and on the care card. \
         It cannot be undone."
    }
    destroy_for_good() { "Delete for good" }
    photograph_destroyed() { "The photograph is deleted, in full and small." }
    photograph_destroyed_once_sent() {
        "The photograph is deleted once the server has this, in full and small, here and wherever this syncs. Of more than \
        five in a day it is asked for: the page of the pair says when."
    }

    add_note() { "Add a note" }
    /// The accessible name of [`add_note`].
    add_note_on(what: &str) { "Add a note on {what}" }
    note_on(what: &str) { "Note on {what}" }
    /// The accessible name of the button that keeps it.
    save_note_on(what: &str) { "Save the note on {what}" }
    notes_on(what: &str) { "Notes on {what}" }
    /// What a note is on, in the sentences above.
    this_ticket() { "this ticket" }

    take_off_and_keep() { "Take off and keep" }
    which_part() { "Which part" }
    of_which_shoe() { "Of which shoe" }
    goes_back_in() { "It goes back in" }
    for_the_customer() { "It is for the customer" }
    part_is_out(part: &str) { "{part} is out, to go back in." }
    part_is_for_the_customer(part: &str) { "{part} is kept for the customer." }

    voice_note() { "Voice note" }
    stop_opening_microphone() { "Opening: stop" }
    stop_recording() { "Recording: stop" }
    voice_note_saved() { "Voice note saved." }
    voice_note_not_saved(why: &str) { "The voice note was not saved: {why}." }
    voice_note_elsewhere() { "A voice note that is not on this device." }

    drying() { "Drying" }
    usual_wait(what: &str, length: &str) { "{what}: {length}" }
    waiting_for_material() { "Waiting for material" }
    soles() { "Soles" }
    top_pieces() { british "Top pieces", american "Heel caps" }
    leather() { "Leather" }
    zip() { british "Zip", american "Zipper" }
    elastic() { "Elastic" }
    other_material() { "Something else" }
}

// Goods sold over the counter.
sentences! {
    goods() { "Goods" }
    other_goods() { "Other goods" }
    more_goods() { "More goods" }
    what_goods() { "What" }
    add_goods() { "Add these goods" }
    chosen_goods() { "Chosen goods" }
    price_of_goods(goods: &str) { "Price of {goods}" }
    without_goods(goods: &str) { "Without {goods}" }
    sundries() { british "Sundries", american "Accessories" }
}
