//! Sentences of the server's own pages, for those who open a link.

use crate::sentence::sentences;

// The page of a care card, or of a link without one.
sentences! {
    card_title(pair: &str) { "Care card: {pair}" }
    card_not_ready() { "This card is not ready yet" }
    card_not_ready_open_again() {
        "The shop has not finished it. Please open this link again when you have your shoes back."
    }
    card_withdrawn() { "This card has been withdrawn" }
    card_withdrawn_ask_in_the_shop() {
        "The shop has withdrawn it. If you have a question about your shoes, please ask in the shop."
    }
    no_card_here() { "There is no card here" }
    no_card_here_check_the_link() {
        "Please check the link, or scan the code on your stub again. If it still does not open, ask in the shop."
    }
    try_again_in_a_minute() { "Please try again in a minute" }
    too_many_links_that_lead_nowhere() { "Too many links that lead nowhere were opened from this network." }
    card_cannot_be_shown() { "The card cannot be shown just now" }
    something_went_wrong() { "Something went wrong on the shop's side. Please try again in a moment." }
}

// The picture in the place of a photograph that cannot be shown.
sentences! {
    photograph_has_not_arrived() { "The photograph has not arrived yet" }
    photograph_is_on_its_way() { "The photograph is on its way" }
    photograph_was_destroyed() { "The photograph was deleted" }
    photograph_destroyed_by_the_shop() { "The shop has deleted this photograph" }
}

// The calendar file with the next check.
sentences! {
    calendar_name() { "Shoe care" }
    shoe_check(pair: &str) { "Shoe check: {pair}" }
    last_work_done(day: &str) { "Last work done: {day}." }
    to_be_looked_at(when: &str) { "To be looked at: {when}." }
}

// The page of a server without the app.
sentences! {
    app_not_built() { "Waxend is running, and the bench app is not built yet.\nBuild it with: make app\n" }
}
