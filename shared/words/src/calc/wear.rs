//! Sentences of the thickness of a part and how much of it may still wear away.

use crate::sentence::sentences;

sentences! {
    millimetres_up_to(most: f64) { "0 to {most} mm" }
    worn_out(part: &str) { "{part}: worn out. Renew it before what is above it wears too." }
    may_still_wear_away(part: &str, left: &str) { "{part}: {left} may still wear away." }
    is_thick(part: &str, thickness: &str) { "{part} is {thickness} thick." }
    top_piece_at_thinnest() { british "Top piece, at its thinnest", american "Heel cap, at its thinnest" }
    guard_is_on() { "A guard is on: what lies on the ground is the guard." }
    kept_at_every_visit() { "Kept at every visit, it says on the pair's page when to look again." }
}

pub(super) fn number_label(field: &str) -> &'static str {
    match field {
        "thickness_mm" => "It is thick",
        _ => "",
    }
}

pub(super) fn option_label(field: &str, option: &str) -> &'static str {
    match (field, option) {
        ("part", "outsole") => "Sole, at its thinnest",
        ("part", "sole_guard") => "Sole guard, at its thinnest",
        ("part", "top_piece") => top_piece_at_thinnest(),
        ("part", "midsole") => "Midsole",
        ("side", "left") => "Left",
        ("side", "right") => "Right",
        ("side", "both") => "Both alike",
        _ => "",
    }
}
