//! Sentences of the calculation of thread for a seam.

use crate::sentence::sentences;

sentences! {
    measure_off(metres: &str) { "Measure off {metres} m of thread, all threads together." }
    stitches_and_ratio(stitches: &str, pitch: &str, ratio: &str) {
        "About {stitches} stitches of {pitch}; the shoe takes {ratio} times its seam."
    }
    arms_length_on_top() { "An arm's length for each end comes on top." }
}

pub(super) fn number_label(field: &str) -> &'static str {
    match field {
        "seam_mm" => "Seam",
        "thickness_mm" => "All that is sewn through",
        "spi" => "Stitches to the inch",
        "waste_percent" => "Wasted, %",
        _ => "",
    }
}

pub(super) fn option_label(field: &str, option: &str) -> &'static str {
    match (field, option) {
        ("stitch", "301") => "Two threads, locked",
        ("stitch", "101") => "One thread, chained",
        ("stitch", "401") => "Two threads, chained",
        ("stitch", "saddle") => "By hand, two ends",
        _ => "",
    }
}
