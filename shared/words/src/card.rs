//! Sentences of the care card.

use crate::sentence::sentences;

sentences! {
    care_card() { "Care card" }
    /// The title of a page with a card.
    page_title(pair: &str) { "Care card: {pair}" }
    your_pair() { "Your pair" }
    earlier_work() { "Earlier work on this pair" }
    work_done() { "Work done" }
    work_done_on(day: &str) { "Work done, {day}" }

    photograph() { "Photograph of the pair" }
    photograph_of(caption: &str) { "Photograph: {caption}" }

    /// Below the drawing of the goods, about parts that are drawn dark.
    shaded_new() { "shaded: new" }
    /// The same about parts that are drawn light, where no other is tinted.
    shaded_mended() { "shaded: mended, or new in part" }
    /// The same where parts are drawn dark and others light.
    shaded_new_and_mended() { "dark: new; light: mended, or new in part" }
    /// In the middle of a sentence: of the two shoes, this one.
    left() { "left" }
    right() { "right" }
    /// In brackets behind what was done.
    pieces(count: u32) { one "1 piece", many "{count} pieces" }
    both_raised(height_mm: u32) { "Both soles raised by {height_mm} mm, as prescribed." }
    one_raised(side: &str, height_mm: u32) { "The {side} sole raised by {height_mm} mm, as prescribed." }
    what_was_found() { "What was found inside" }
    extras() { "Extras, at no charge" }
    /// Above remarks of the shop for the customer.
    good_to_know() { "Good to know" }
    how_to_make_it_last() { "How to make it last" }

    /// Before [`hours`], which stand in an element of their own; [`before_first_wear`] follows them.
    please_wait() { "Please wait " }
    hours(count: u32) { one "1 hour", many "{count} hours" }
    /// The end of the sentence that [`please_wait`] begins.
    before_first_wear() { " before the first wear." }

    /// Before the day, which stands in an element of its own; [`forecast`] may follow it.
    next_check() { "Look again: " }
    /// After the day of [`next_check`].
    forecast(foretold: &str) { " ({foretold})" }
    add_to_calendar() { "Add to calendar" }

    price(amount: &str) { "Price: {amount}" }
    guarantee(terms: &str) { "Guarantee: {terms}" }
    ask_the_shop(shop: &str) { "Questions? Ask us: {shop}" }
    /// On paper, where not all of the card has room.
    more_on_the_page() { "More is on this card's page." }
}
