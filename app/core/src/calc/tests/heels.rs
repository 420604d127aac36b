//! The heel: its lifts, its height before wear, the level of the pair, nails, and the corner line.

use super::*;

fn answered(what: &str, numbers: &[(&str, f64)], words: &[(&str, &str)]) -> Result<CalcAnswer, String> {
    let given = given(what, numbers, words);
    given.helper.answer(&given)
}

/// (30 − 6) / 5 = 4.8: five, the last one 4 mm.
#[test]
fn lifts_are_cut_and_the_last_one_skived() {
    assert_eq!(say("lifts", &[], &[]), "Cut 5 lifts, skive the last to 4 mm.");
    assert_eq!(say("lifts", &[("height_mm", 31.0)], &[]), "Cut 5 lifts.");
    assert_eq!(
        say("lifts", &[("height_mm", 6.0)], &[]),
        "No lift: the top piece alone."
    );
}

/// (36.2 − 6) / 5 = 6.04: a seventh lift would be 0.2 mm, so six of 30.2 / 6 = 5.03 mm.
#[test]
fn a_last_lift_that_is_too_thin_is_shared_out() {
    let answer = answered("lifts", &[("height_mm", 36.2)], &[]).unwrap();
    assert_eq!(answer.say, "Cut 6 lifts, a little thicker: 5.03 mm each.");
    assert_eq!(
        answer.more[0],
        "One lift more would be only 0.2 mm: too thin to lay."
    );
    assert_eq!(
        say("lifts", &[("height_mm", 6.3)], &[]),
        "No lift: the 0.3 mm that are left are too thin. Take a thicker top piece."
    );
}

#[test]
fn a_heel_that_is_higher_is_taken_down() {
    let higher = [("left_back_mm", 32.0), ("left_breast_mm", 26.0)];
    assert_eq!(say("level", &higher, &[]), "Take 2 mm off the left, at the back.");
    assert_eq!(
        say("level", &[("left_back_mm", 30.5)], &[]),
        "They stand alike: within 1 mm and 1 degree."
    );
}

/// Common practice, no source: above 6 mm it is asked first.
#[test]
fn a_great_difference_is_asked_about_before_it_is_levelled() {
    let answer = answered("level", &[("left_back_mm", 38.0)], &[]).unwrap();
    assert_eq!(
        answer.say,
        "Ask before levelling: they differ by 8 mm, which may be meant."
    );
    assert_eq!(
        answer.more[0],
        "If it is not meant, take 8 mm off the left, at the back."
    );
    assert!(say("level", &[("left_back_mm", 36.0)], &[]).starts_with("Take 6 mm off"));
}

#[test]
fn prescribed_heights_are_never_levelled() {
    let numbers = [("left_back_mm", 50.0)];
    let said = say("level", &numbers, &[("heights", "prescribed")]);
    assert!(
        said.starts_with("As prescribed: the heights are not levelled."),
        "{said}"
    );
}

/// A straight heel of 26 mm at the breast and 28 mm half way back has 30 mm at the back.
#[test]
fn the_height_it_had_is_found_from_what_is_not_worn() {
    assert_eq!(
        say("heel", &[], &[]),
        "It was 30 mm at the back: 3 mm are worn away."
    );
    let breast = [("known_mm", 26.0), ("middle_mm", 28.0), ("now_mm", 28.0)];
    assert_eq!(
        say("heel", &breast, &[("known_from", "breast")]),
        "It was 30 mm at the back: 2 mm are worn away."
    );
    assert_eq!(
        say("heel", &[("now_mm", 30.0)], &[]),
        "It was 30 mm at the back: nothing is worn away."
    );
    let flat = answered("heel", &[("now_mm", 0.0)], &[]).unwrap_err();
    assert!(flat.starts_with("Height at the worn back: "), "{flat}");
}

/// Closed form: 30 − 24 = 6 mm deep, by its depth or by the two heights.
#[test]
fn the_corner_is_measured_as_a_depth_or_as_two_heights() {
    let depth = answered("corner", &[("outer_back_mm", 6.0)], &[]).unwrap();
    let heights = [("was_mm", 30.0), ("now_mm", 24.0)];
    let heights = answered("corner", &heights, &[("measured", "heights")]).unwrap();
    assert_eq!((&depth.say, &depth.sketch), (&heights.say, &heights.sketch));
    assert!(depth.say.starts_with("Cut along the line"), "{}", depth.say);
    let higher = [("was_mm", 24.0), ("now_mm", 30.0)];
    assert_eq!(
        answered("corner", &higher, &[("measured", "heights")]).unwrap_err(),
        "Height at the outer back corner now: no more than the height it had."
    );
}

#[test]
fn wear_with_a_minus_is_refused_with_what_to_type() {
    assert_eq!(
        answered("corner", &[("outer_back_mm", -6.0)], &[]).unwrap_err(),
        "Worn at the outer back corner: without a minus: 6 mm where 6 mm are meant."
    );
    let inner = answered("corner", &[("inner_back_mm", -1.0)], &[]).unwrap_err();
    assert!(
        inner.starts_with("Worn at the inner back corner: without a minus"),
        "{inner}"
    );
}

/// Closed form: a block of 25, and the nail of 25 ends where the seat begins.
#[test]
fn why_this_nail_or_none_is_said() {
    let below = [("direction", "below")];
    let short = answered("nails", &[("block_mm", 25.0)], &below).unwrap();
    assert_eq!(
        short.say,
        "25 mm into a block of 25 mm from below does not reach the seat: no nail on the shelf does."
    );
    let reaches = answered("nails", &[("block_mm", 20.0)], &below).unwrap();
    assert_eq!(reaches.say, "Use 22 mm nails.");
    assert_eq!(reaches.more[0], "It must be shorter than 25 mm.");
    assert_eq!(
        reaches.more[1],
        "The longest on the shelf that is: it holds with 2 mm in the seat."
    );
    let inside = answered("nails", &[("block_mm", 25.0)], &[]).unwrap();
    assert_eq!(
        inside.more[1],
        "The longest on the shelf that is: it holds with 17 mm in the block."
    );
    // Common practice, no source: at least 8 mm hold.
    let little = answered("nails", &[("block_mm", 10.0)], &[]).unwrap();
    assert_eq!(little.say, "Use 14 mm nails.");
    assert!(little.more[1].starts_with("Mind: ") && little.more[1].contains("only 6 mm in the block"));
    let no_room = [("block_mm", 1.0), ("top_piece_mm", 1.0)];
    assert_eq!(
        say("nails", &no_room, &[("direction", "top_piece")]),
        "No nail: what is kept clear leaves no room for one."
    );
}
