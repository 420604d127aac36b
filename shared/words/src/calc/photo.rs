//! Sentences of the measurement in a photograph.

use crate::sentence::sentences;

sentences! {
    tap_first_corner() {
        british "Tap a corner of it, then the next along a long side, and so round.",
        american "Tap a corner of it, then the next along a long side, and so around."
    }
    tap_corner(number: usize, corners: usize) { "Corner {number} of {corners}." }
    tap_where_it_begins() { "Now tap where what you measure begins." }
    tap_where_it_ends() { "And where it ends." }
    corners() { "The corners" }
    it_measures(lengths: &str) { "It measures {lengths}." }
    nearer_comes_out_larger() {
        "What lies nearer to the lens than the card comes out larger: 25 mm nearer at 400 mm, 7 % too long."
    }
}

/// Lengths in the order in which they were measured: `3 mm, then 4 mm`.
#[must_use]
pub fn one_then_the_next(lengths: &[String]) -> String {
    lengths.join(", then ")
}

/// The name of an object of known size that lies beside the work.
#[must_use]
pub fn lies_beside(object: &str) -> &'static str {
    match object {
        "card" => "A bank card",
        "a4" => "A sheet of A4",
        _ => "",
    }
}
