//! Sentences of the calculations: their questions and answers.
//!
//! A calculation, its fields and the options of a field are named by their words in the log; what has none of these
//! words has the empty text.

pub mod clock;
pub mod colour;
pub mod compare;
pub mod heel;
pub mod leather;
pub mod nails;
pub mod photo;
pub mod seam;
pub mod sole;
pub mod wear;

use crate::sentence::sentences;

sentences! {
    an_example() { "An example, not yet measured." }
    from_an_earlier_visit() { "From an earlier visit, not yet measured now." }
    still_assumed(labels: &str) { "Assumed, not measured: {labels}." }
    a_number_is_needed(label: &str) { "{label}: a number." }
    refused(label: &str, allowed: &str) { "{label}: {allowed}." }
    one_of_those_offered() { "one of those offered" }
    from_to(least: u32, most: u32) { "from {least} to {most}" }
}

/// The title of a calculation.
#[must_use]
pub fn title(calculation: &str) -> &'static str {
    match calculation {
        "sole" => "Sole size",
        "pitch" => "Pitch",
        "leather" => "Leather",
        "thread" => "Thread",
        "nails" => "Nails",
        "lifts" => "Lifts",
        "heel" => "Original height",
        "level" => "Level the pair",
        "corner" => "Rubber line",
        "wear" => "Wear",
        "ready" => "Ready when",
        "photo" => "On a photograph",
        "compare" => compare::two_colours(),
        "dye" => colour::colour_recipe(),
        // Not a calculation: what a person sees.
        "match" => crate::work::not_quite_a_match(),
        _ => "",
    }
}

/// What to mind at the work of a calculation; empty if there is nothing.
#[must_use]
pub fn mind(calculation: &str) -> &'static str {
    match calculation {
        "nails" => nails::feel_for_points(),
        "ready" => clock::sheet_rules(),
        _ => "",
    }
}

/// The question for a number of a calculation.
#[must_use]
pub fn number_label(calculation: &str, field: &str) -> &'static str {
    match calculation {
        "sole" | "pitch" => sole::number_label(calculation, field),
        "leather" => leather::number_label(field),
        "thread" => seam::number_label(field),
        "nails" => nails::number_label(field),
        "lifts" | "heel" | "level" | "corner" => heel::number_label(calculation, field),
        "wear" => wear::number_label(field),
        "ready" => clock::number_label(field),
        _ => "",
    }
}

/// The question for a choice of a calculation.
#[must_use]
pub fn choice_label(calculation: &str, field: &str) -> &'static str {
    match (calculation, field) {
        ("sole", "system") => "Size in",
        ("sole", "group") => "Whose",
        ("thread", "stitch") => "Stitch",
        ("nails", "direction") => "Driven from",
        ("nails", "shank") => "Shank",
        ("heel", "known_from") => "What is not worn",
        ("level", "heights") => "Heights meant",
        ("corner", "measured") => "Measured as",
        ("wear", "part") => "Of what",
        ("wear", "side") => "Which shoe",
        ("ready", "kind") => "What was started now",
        _ => "",
    }
}

/// The name of an option of a choice of a calculation.
#[must_use]
pub fn option_label(calculation: &str, field: &str, option: &str) -> &'static str {
    match calculation {
        "sole" => sole::option_label(field, option),
        "thread" => seam::option_label(field, option),
        "nails" => nails::option_label(field, option),
        "heel" | "level" | "corner" => heel::option_label(field, option),
        "wear" => wear::option_label(field, option),
        "ready" => clock::option_label(field, option),
        _ => "",
    }
}
