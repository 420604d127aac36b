//! Sentences of the calculation of which nails to use.

use super::heel;
use crate::sentence::sentences;

sentences! {
    feel_for_points() { "Feel for points by hand, inside, left and right, before anything else is done." }
    pull_nail(length: &str) { "Pull the {length}." }
    none_short_enough(longest: &str) { "None on the shelf is short enough: at most {longest}." }
    must_be_shorter_than(length: &str) { "It must be shorter than {length}." }
    nails_from_edge(count: u32, inset: &str) { "{count} nails, {inset} from the edge." }
    punch_holes_first() { "Punch the holes first." }
}

pub(super) fn number_label(field: &str) -> &'static str {
    match field {
        "block_mm" => "Heel block",
        "top_piece_mm" => "Top piece",
        "seat_mm" => "Sole at the heel seat",
        "midsole_mm" => "Midsole",
        "insole_mm" => "Insole",
        "clearance_mm" => "Kept clear of the point",
        "count" => "Nails",
        "width_mm" => heel::heel_width(),
        "length_mm" => heel::heel_length(),
        _ => "",
    }
}

pub(super) fn option_label(field: &str, option: &str) -> &'static str {
    match (field, option) {
        ("direction", "inside") => "Inside the shoe",
        ("direction", "below") => "Below, no top piece yet",
        ("direction", "top_piece") => "Below, through the top piece",
        ("shank", "plain") => "Plain",
        ("shank", "threaded") => "Threaded",
        _ => "",
    }
}
