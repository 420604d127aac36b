//! Sentences of the calculation of when something is ready.

use crate::sentence::sentences;

sentences! {
    sheet_rules() { "The product's own sheet rules. Air the room; no flame near solvent." }
    minutes_from_to(least: u32, most: u32) { "from {least} to {most} minutes" }
    tomorrow_at(time: &str) { "tomorrow, {time}" }
    on_day_at(day: &str, time: &str) { "{day}, {time}" }
    feel_and_join(from: &str, join_by: &str) { "Feel it from {from}; join by {join_by}." }
    feel(from: &str) { "Feel it from {from}." }
    ready_at(moment: &str) { "Ready: {moment}." }
    full_strength_at(moment: &str) { "Through, or at full strength: {moment}." }
    paste_stiffener() { british "Stiffener, paste", american "Counter or box toe, paste" }
    solvent_stiffener() { british "Stiffener, solvent", american "Counter or box toe, solvent" }
    heat_stiffener() { british "Stiffener, heat", american "Counter or box toe, heat" }
    finish_colour() { british "Finish colour", american "Finish color" }
}

pub(super) fn number_label(field: &str) -> &'static str {
    match field {
        "sheet_min" => "Minutes the product's sheet asks, at least (0: usual)",
        "sheet_max" => "Minutes, at most (0: usual)",
        _ => "",
    }
}

pub(super) fn option_label(field: &str, option: &str) -> &'static str {
    match (field, option) {
        ("kind", "contact_cement") => "Contact cement",
        ("kind", "water_cement") => "Water-based cement",
        ("kind", "counter_paste") => paste_stiffener(),
        ("kind", "counter_solvent") => solvent_stiffener(),
        ("kind", "counter_heat") => heat_stiffener(),
        ("kind", "spirit_dye") => "Spirit dye",
        ("kind", "acrylic_colour") => finish_colour(),
        ("kind", "edge_ink") => "Edge ink",
        ("kind", "cream") => "Cream",
        ("kind", "conditioner") => "Conditioner",
        ("kind", "soak") => "Soaking",
        ("kind", "stretch") => "Stretching",
        _ => "",
    }
}
