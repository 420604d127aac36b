//! Sentences of the calculations for the sole: its size and thickness, and the pitch.

use crate::sentence::sentences;

sentences! {
    use_size(eu: &str, thickness: &str) { "Use size {eu} (EU) at {thickness}." }
    irons(thickness: &str) { "{thickness} irons." }
    about_sizes(eu: &str, uk: &str, us_men: &str, us_women: &str) {
        "About EU {eu}, UK {uk}, US men {us_men}, US women {us_women}: the nearest half."
    }
    about_child_sizes(eu: &str, uk: &str, us_from: &str, us_to: &str) {
        "About EU {eu}, UK {uk}, US {us_from} or {us_to} by the maker: the nearest half."
    }
    begins_again_at_one() {
        "After 13½ children's sizes begin again at 1: a 1 that comes after 13½ is typed as an adult's."
    }
    foot_and_last(foot: &str, last: &str) { "Foot {foot}, last {last}." }

    pitch_stays() { "The pitch stays." }
    put_under_heel(height: &str) { "Put {height} under the heel, or the toe comes up." }
    put_under_tread(height: &str) { "Put {height} under the tread, or the heel comes up." }
    pitch_changed(degrees: &str, change: &str) { "Pitch {degrees} degrees, changed by {change}." }
}

pub(super) fn number_label(calculation: &str, field: &str) -> &'static str {
    match (calculation, field) {
        ("sole", "size") => "Size",
        ("sole", "thickness_mm") => "Thickness at an unworn edge",
        ("pitch", "seat_mm") => "Height of the heel seat",
        ("pitch", "tread_mm") => "Thickness of the sole at the tread",
        ("pitch", "run_mm") => "Straight distance from seat to tread",
        ("pitch", "tread_change_mm") => "More under the tread: a guard",
        ("pitch", "seat_change_mm") => "More under the heel",
        _ => "",
    }
}

pub(super) fn option_label(field: &str, option: &str) -> &'static str {
    match (field, option) {
        ("system", "eu") => "EU",
        ("system", "uk") => "UK",
        ("system", "us_men") => "US men",
        ("system", "us_women") => "US women",
        ("system", "foot") => "mm of foot",
        ("group", "adult") => "Adult",
        ("group", "child") => "Child",
        _ => "",
    }
}
