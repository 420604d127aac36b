//! Sentences of the calculations for the heel: its lifts, its height before wear, the level of the pair, and the
//! corner line.

use crate::sentence::sentences;

sentences! {
    heel_width() { "Heel, side to side" }
    heel_length() { "Heel, back to breast" }
    top_piece() { british "Top piece", american "Heel cap" }

    no_lift() { british "No lift: the top piece alone.", american "No lift: the heel cap alone." }
    cut_lifts(count: u32) { one "Cut 1 lift.", many "Cut {count} lifts." }
    cut_lifts_skive_last(count: u32, last: &str) {
        one "Cut 1 lift, skive the last to {last}.",
        many "Cut {count} lifts, skive the last to {last}.",
    }
    cut_thicker_lifts(count: u32, each: &str) {
        one "Cut 1 lift, a little thicker: {each}.",
        many "Cut {count} lifts, a little thicker: {each} each.",
    }
    last_would_be(thickness: &str) { "One lift more would be only {thickness}: too thin to lay." }
    less_than_a_lift(left: &str) {
        british "No lift: the {left} that are left are too thin. Take a thicker top piece.",
        american "No lift: the {left} that are left are too thin. Take a thicker heel cap."
    }

    height_it_had(height: &str, worn: &str) { "It was {height} at the back: {worn} are worn away." }
    height_unchanged(height: &str) { "It was {height} at the back: nothing is worn away." }

    as_prescribed() {
        british "As prescribed: the heights are not levelled. Ask whoever prescribed them.",
        american "As prescribed: the heights are not leveled. Ask whoever prescribed them."
    }
    ask_first(difference: &str) {
        british "Ask before levelling: they differ by {difference}, which may be meant.",
        american "Ask before leveling: they differ by {difference}, which may be meant."
    }
    if_not_meant(heights: &str) { "If it is not meant, take {heights}." }
    stand_alike() { "They stand alike: within 1 mm and 1 degree." }
    take_off(heights: &str) { "Take {heights}." }
    or_put_on(heights: &str) { "Or put {heights}." }
    off_the(height: &str, place: &str) { "{height} off the {place}" }
    on_the(height: &str, place: &str) { "{height} on the {place}" }
    left_back() { "left, at the back" }
    left_breast() { "left, at the breast" }
    right_back() { "right, at the back" }
    right_breast() { "right, at the breast" }
    wedges_differ(degrees: &str) { "The wedges differ by {degrees} degrees, left less right." }

    without_a_minus(depth: &str) { "without a minus: {depth} where {depth} are meant" }
    no_more_than_it_was() { "no more than the height it had" }
    cut_along_line(degrees: &str) { "Cut along the line, {degrees} degrees to the breast." }
    all_rubber() { "All rubber: it is worn deeper than that everywhere." }
    all_leather() { "All leather: nowhere is it worn deeper than that." }
    rubber_and_leather(rubber_cm2: &str, leather_cm2: &str) {
        "Rubber {rubber_cm2} cm², leather {leather_cm2} cm², each heel."
    }
    facet_tilts(degrees: &str) { "The worn facet tilts {degrees} degrees." }
}

pub(super) fn number_label(calculation: &str, field: &str) -> &'static str {
    match (calculation, field) {
        ("lifts", "height_mm") => "Height of the whole heel",
        ("lifts", "top_piece_mm") => top_piece(),
        ("lifts", "lift_mm") => "One lift",
        ("heel", "known_mm") => "Height there",
        ("heel", "now_mm") => "Height at the worn back",
        ("heel", "middle_mm") => "Height half way back, not worn",
        ("level", "left_back_mm") => "Left, at the back",
        ("level", "left_breast_mm") => "Left, at the breast",
        ("level", "right_back_mm") => "Right, at the back",
        ("level", "right_breast_mm") => "Right, at the breast",
        ("corner", "outer_back_mm") => "Worn at the outer back corner",
        ("corner", "was_mm") => "Height at the back, as it was",
        ("corner", "now_mm") => "Height at the outer back corner now",
        ("corner", "inner_back_mm") => "Worn at the inner back corner",
        ("corner", "outer_breast_mm") => "Worn at the outer breast corner",
        ("corner", "keep_mm") => "Wear that leather may keep",
        ("corner", "width_mm") => heel_width(),
        ("heel" | "level" | "corner", "length_mm") => heel_length(),
        _ => "",
    }
}

pub(super) fn option_label(field: &str, option: &str) -> &'static str {
    match (field, option) {
        ("known_from", "other") => "The other shoe",
        ("known_from", "edge") => "The inner edge at the back",
        ("known_from", "breast") => "The breast",
        ("heights", "alike") => "Alike",
        ("heights", "prescribed") => "As prescribed",
        ("measured", "depth") => "Depth of wear",
        ("measured", "heights") => "Two heights",
        _ => "",
    }
}
