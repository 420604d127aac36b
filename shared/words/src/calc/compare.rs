//! Sentences of the comparison of two colours in one photograph.

use crate::sentence::sentences;

sentences! {
    two_colours() { british "Two colours", american "Two colors" }
    tap_wanted_colour() {
        british "Tap the colour that it should be.",
        american "Tap the color that it should be.",
    }
    tap_mixed_colour() {
        british "Now tap the colour that was mixed.",
        american "Now tap the color that was mixed.",
    }
    tap_white_card_too() {
        british "Tap a white card in the same picture as well: without it the lamp colours both.",
        american "Tap a white card in the same picture as well: without it the lamp colors both.",
    }
    white_card() { "The white card" }
    light_card_gives_back() { "Light the card gives back, %" }
    card_washed_out() { "washed out in this picture; photograph it a little darker" }
    card_too_dark() { "too dark to be white; tap it again" }
    apart_hardly_seen(difference: &str) { "Apart by {difference}: hardly anybody will see it." }
    apart_mostly_accepted(difference: &str) { "Apart by {difference}: it will be seen, and mostly accepted." }
    apart_seen(difference: &str) { "Apart by {difference}: it will be seen." }
    thresholds_are_borrowed() {
        "Seen from 0.8, accepted up to 1.8 by half of those who look: figures of dentists, for leather there are none."
    }
    mixed_one_is(lighter_or_redder: &str) { "The mixed one is {lighter_or_redder}." }
    lighter() { "lighter" }
    darker() { "darker" }
    redder() { "redder" }
    greener() { "greener" }
    yellower() { "yellower" }
    bluer() { "bluer" }
}
