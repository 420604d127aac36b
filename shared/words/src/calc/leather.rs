//! Sentences of the calculation of how much leather to buy.

use crate::sentence::sentences;

sentences! {
    length_and_width_of_more_than_nothing() { "a length and a width of more than nothing" }
    square_decimetres(area: &str) { "{area} dm²" }
    square_feet(area: &str) { "{area} square feet" }
    buy(area: &str) { "Buy {area}, or find it on the shelf." }
    also_and_each_piece(area: &str, each_dm2: &str) {
        british "{area}. Each piece {each_dm2} dm², as the rectangle round it.",
        american "{area}. Each piece {each_dm2} dm², as the rectangle around it."
    }
}

pub(super) fn number_label(field: &str) -> &'static str {
    match field {
        "length_mm" => "One piece, its length",
        "width_mm" => "One piece, its width",
        "count" => "Pieces",
        "yield_percent" => "Used of what is bought, %",
        _ => "",
    }
}
