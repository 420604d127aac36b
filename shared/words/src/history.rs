//! Sentences of a pair's history: how long ago, what was done.

use crate::sentence::sentences;

sentences! {
    photo_as_brought() { "As brought" }
    photo_finished() { "Finished" }
    photo_of_damage() { "Damage" }
    photo_of_swatch() { "Swatch" }
    other_photo() { "Photograph" }
    left_heel_height_at_back() { "Heel height, left, at the back" }
    left_heel_height_at_breast() { "Heel height, left, at the breast" }
    right_heel_height_at_back() { "Heel height, right, at the back" }
    right_heel_height_at_breast() { "Heel height, right, at the breast" }
    heel_height_at_worn_back() { "Heel height, at the worn back" }
    wear_at_outer_back_corner() { "Wear at the outer back corner" }
    wear_at_inner_back_corner() { "Wear at the inner back corner" }
    thickness(part: &str) { "{part}, thickness" }
    left_thickness(part: &str) { "{part}, left, thickness" }
    right_thickness(part: &str) { "{part}, right, thickness" }
}

/// What a field of one of the bench's helpers measures on the pair itself, by the codes of helper and field; `None` where
/// the number is chosen or calculated, or for a code that this version does not know.
#[must_use]
pub fn quantity(helper: &str, field: &str) -> Option<&'static str> {
    let quantity = match (helper, field) {
        ("level", "left_back_mm") => left_heel_height_at_back(),
        ("level", "left_breast_mm") => left_heel_height_at_breast(),
        ("level", "right_back_mm") => right_heel_height_at_back(),
        ("level", "right_breast_mm") => right_heel_height_at_breast(),
        ("heel", "now_mm") => heel_height_at_worn_back(),
        ("corner", "outer_back_mm") => wear_at_outer_back_corner(),
        ("corner", "inner_back_mm") => wear_at_inner_back_corner(),
        _ => return None,
    };
    Some(quantity)
}
