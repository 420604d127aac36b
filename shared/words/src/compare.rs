//! Sentences of two photographs beside each other.

use crate::sentence::sentences;

sentences! {
    compare() { "Compare" }
    no_such_pair() { "This pair is not on this device. Sync in Shop, or look for it in Records." }
    too_few_photographs() { "There are not yet two photographs of this pair. Take another with the camera." }
    how_they_are_laid() { "How they are laid" }
    with_divider() { "Divider" }
    side_by_side() { "Side by side" }
    divider() { "Divider" }
    divider_place(percent: u32) { "{percent} of 100 from the left" }
    first_photograph() { "First" }
    second_photograph() { "Second" }
    photographed_on(shows: &str, day: &str) { "{shows}, {day}" }
    only_small_copy() { "Only the small copy is here." }
}
