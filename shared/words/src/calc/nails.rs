//! Sentences of the calculation of which nails to use.

use super::heel;
use crate::sentence::sentences;

sentences! {
    feel_for_points() { "Feel for points by hand, inside, left and right, before anything else is done." }
    use_nails(length: &str) { "Use {length} nails." }
    none_short_enough(longest: &str) { "None on the shelf is short enough: it must be shorter than {longest}." }
    no_room() { "No nail: what is kept clear leaves no room for one." }
    does_not_reach_seat(nail: &str, block: &str) {
        "{nail} into a block of {block} from below does not reach the seat: no nail on the shelf does."
    }
    does_not_reach_block(nail: &str, layers: &str) {
        "{nail} ends in the {layers} before the block, and holds nothing: no nail on the shelf does."
    }
    holds_in_block(hold: &str) { "The longest on the shelf that is: it holds with {hold} in the block." }
    holds_in_seat(hold: &str) { "The longest on the shelf that is: it holds with {hold} in the seat." }
    holds_little(hold: &str, least: &str) {
        "Mind: the longest on the shelf that is holds with only {hold} in the block, and {least} are the least."
    }
    must_be_shorter_than(length: &str) { "It must be shorter than {length}." }
    nails_from_edge(count: u32, inset: &str) { "{count} nails, {inset} from the edge." }
    punch_holes_first() { "Punch the holes first." }
    below_without_top_piece() { british "Below, no top piece yet", american "Below, no heel cap yet" }
    through_top_piece() { british "Below, through the top piece", american "Below, through the heel cap" }
}

pub(super) fn number_label(field: &str) -> &'static str {
    match field {
        "block_mm" => "Heel block",
        "top_piece_mm" => heel::top_piece(),
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
        ("direction", "below") => below_without_top_piece(),
        ("direction", "top_piece") => through_top_piece(),
        ("shank", "plain") => "Plain",
        ("shank", "threaded") => "Threaded",
        _ => "",
    }
}
