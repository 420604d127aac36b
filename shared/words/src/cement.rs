//! Sentences of the cement guide: what is glued to what, step by step, and the shop's own cements.

use crate::sentence::sentences;

// The guide at a step.
sentences! {
    cement_guide() { "Cement guide" }
    glued_on() { "What is glued on" }
    glued_to() { "What it is glued to" }
    from_the_pair() { "Chosen by what the pair is made of. Check it against what is in the hand." }
    steps() { "Steps" }
    sheet_first() {
        british "Common practice, no source, unless a step names one. The sheet of the tin comes first.",
        american "Common practice, no source, unless a step names one. The sheet of the can comes first."
    }
    own_note(note: &str) { "This shop: {note}" }
    also_take(cements: &str) { "Also possible: {cements}." }
    hazard(from: &str, does: &str, protection: &str) { "{from}: {does} {protection}" }
}

// The kinds of cement.
sentences! {
    neoprene() { "Neoprene contact cement" }
    polyurethane() { "Polyurethane contact cement" }
    water_based() { "Water-based contact cement" }
    two_part() { "Two-part cement" }
    rubber_solution() { "Rubber solution" }
}

// What to find out before anything is glued, and what to leave.
sentences! {
    find_out_glued_on() { "Find out what is glued on: the way depends on it." }
    find_out_glued_to() { "Find out what it is glued to: the way depends on it." }
    find_out_unlisted(material: &str) {
        "{material}: not in this guide. Ask its maker which cement takes, and try it on an offcut."
    }
    find_out_pu_or_eva() {
        "Find out whether the foam is PU or EVA: they are prepared differently. PU is heavier and turns sticky or \
        crumbles with age; EVA is light and springs back."
    }
    no_cement_takes_both(on: &str, to: &str) { "{on} on {to}: no usual cement takes on both. Not advised." }
    layer_between() {
        "Put a layer of leather between them, and cement each face with what takes on it. Or stitch or nail it."
    }
    own_against(material: &str, cement: &str) {
        "{material}: {cement} does not usually take on it. It is this shop's own way: try it on an offcut."
    }
}

// The steps by name.
sentences! {
    step_prepare() { "Prepare" }
    step_wipe() { "Wipe" }
    step_prime() { "Prime" }
    step_cement() { "Cement" }
    step_wait() { "Wait" }
    step_join() { "Join" }
    step_press() { "Press" }
    step_trim() { "Sand or trim" }
    step_strength() { "Full strength" }
    step_instead() { "Instead" }
}

// What the steps say.
sentences! {
    on_material(material: &str, what: &str) { "{material}: {what}" }
    coats(count: u32) { one "1 coat", many "{count} coats" }
    with_product(cement: &str, product: &str) { "{cement} (here: {product})" }
    cement_on_both(cement: &str, coats: &str) { "{cement}: {coats} on each side." }
    cement_on_each(cement: &str, coats: &str) { "{cement}: {coats}." }
    coats_on(material: &str, coats: &str) { "{material} {coats}" }
    each_coat_dries() { "Let each coat dry before the next." }
    hardener_by_sheet() { "Hardener only where the sheet asks for it." }
    takes_on_known(cements: &str) { "On the side that is known these take: {cements}. Choose when the other is known." }
    takes_on_either(cements: &str) { "Whichever foam it is, these take: {cements}. Prepare it as the one that it is." }
    from_to_minutes(from: u32, to: u32) { "{from} to {to}\u{a0}min" }
    wait_dry(time: &str) { "{time}, until it is dry to the touch and no longer strings. The touch decides." }
    wait_mixed(time: &str) { "Mix it as its sheet says. {time} before it is joined, as the sheet says." }
    join_within(time: &str) { "Within {time} once it is dry. Too late: warm it, or coat it again." }
    join_warm(low: u32, high: u32, time: &str) {
        "Warm both dry films to about {low} to {high}\u{a0}°C and join at once (figures from memory). Without heat: \
        within {time} once they are dry."
    }
    join_or_coat(time: &str) { "Within {time} once it is dry. Too late: coat it again, no heat." }
    join_mixed(time: &str) { "Within {time} after mixing, before it goes off." }
    press_hammer(from: u32, to: u32) {
        "Hammer it from the middle to the edge, or {from} to {to}\u{a0}s in the press (figures from memory)."
    }
    press_soft(from: u32, to: u32) {
        "Roll it from the middle to the edge, or {from} to {to}\u{a0}s in the press with little pressure (figures from \
        memory). No hammer: it is soft."
    }
    press_clamp(from: u32, to: u32) { "Hold it in a clamp until it has set, about {from} to {to}\u{a0}h." }
    trim_after(minutes: u32) {
        "Not before {minutes}\u{a0}min after it is joined; better overnight. Source: a shoemaking handbook wiki and a \
        trade association's class on bonding (secondary)."
    }
    full_strength(from: u32, to: u32) {
        "{from} to {to}\u{a0}h after it is joined. Source: the same two (secondary)."
    }
}

// What the law says about solvents, beside the cautions.
sentences! {
    toluene_limit(percent: &str) {
        "Toluene: adhesives and spray paints with {percent}\u{a0}% or more of it may not be sold to the public in the \
        EU (REACH, annex XVII, entry 48; ECHA, question 668). Local rules come first."
    }
    hexane_limit(ppm: u32, mg: u32) {
        "n-Hexane in the air at work, in the EU: at most {ppm}\u{a0}ppm ({mg}\u{a0}mg/m³) over eight hours (Directive \
        2006/15/EC, seen in a secondary listing). Local rules come first."
    }
}

// How each material is prepared and wiped.
sentences! {
    prepare_smooth_leather() {
        british "Rough the grain off the margin, down to open fibre and no deeper.",
        american "Rough the grain off the margin, down to open fiber and no deeper."
    }
    prepare_suede() { "Rough the margin only. Tape the nap above it: cement does not come out of a nap." }
    prepare_oiled() {
        british "Rough the margin well, down to open fibre.",
        american "Rough the margin well, down to open fiber."
    }
    prepare_patent() { "Strip the film off the margin, down to the leather: cement on the film peels off with it." }
    prepare_cordovan() { "Rough the margin lightly: it is dense and full of grease." }
    prepare_exotic() { "Rough the margin only, with a light hand: scales lift and thin skin tears." }
    prepare_coated() {
        british "Rough the coat at the margin until it is matt; do not go through to the backing.",
        american "Rough the coat at the margin until it is matte; do not go through to the backing."
    }
    prepare_satin() {
        "Do not rough it. Tape the cloth above the margin, and keep the coats thin: cement shows through."
    }
    prepare_textile() { "Brush the margin up; tape the cloth above it." }
    prepare_synthetic() {
        british "Rough the margin lightly until it is matt: the coat is thin.",
        american "Rough the margin lightly until it is matte: the coat is thin."
    }
    prepare_leather_sole() { "Sand the face that is joined until it is even and has a short nap." }
    prepare_rubber_sole() {
        british "Sand the whole face until it is matt: a skin from the mould holds nothing.",
        american "Sand the whole face until it is matte: a skin from the mold holds nothing."
    }
    prepare_crepe_sole() { "Rough it lightly and slowly: heat smears it. Keep the coats thin: they soften it." }
    prepare_pu_sole() { "Press it with a thumb first: what crumbles is not glued. Then sand only the skin off." }
    prepare_eva_sole() {
        british "Sand it until it is matt, with little pressure: it melts.",
        american "Sand it until it is matte, with little pressure: it melts."
    }
    prepare_tpr_sole() {
        british "Sand it until it is matt, slowly: it smears when it gets warm.",
        american "Sand it until it is matte, slowly: it smears when it gets warm."
    }
    prepare_foam_sole() { "Press it with a thumb first: what crumbles is not glued." }
    wipe_dust() { "Brush the dust off." }
    wipe_nap() { "Brush the dust off; no solvent on the nap." }
    wipe_degrease() { "Degrease the margin twice, with a clean cloth each time; let it dry." }
    wipe_film() { "Brush the dust off; no solvent on the film above the margin." }
    wipe_cleaner() { "Wipe it with the cleaner that the cement's maker names; let it dry." }
    wipe_dry() { "Keep it dry: water and solvent leave marks. Try it on a hidden spot." }
    wipe_no_solvent() { "Brush the dust off; no solvent: it softens." }
    wipe_pu() { "Wipe it once with the cleaner for PU; let it dry." }
    prime_tpr() { "Halogenation primer; let it dry as its sheet says." }
    prime_rubber() {
        british "Halogenation primer on vulcanised rubber; sheet sold ready for cement may do without: ask its maker.",
        american "Halogenation primer on vulcanized rubber; sheet sold ready for cement may do without: ask its maker."
    }
    prime_eva() { "The primer for EVA; let it dry as its sheet says." }
}

// The shop's own cements and ways.
sentences! {
    cements() { "Cements" }
    products() { "Products and their times" }
    cements_say() { "What this shop uses. The guide then names it, with its own times. Empty: the usual." }
    product(cement: &str) { "{cement}: product" }
    product_wait(cement: &str) { "{cement}: dries for, min" }
    product_open(cement: &str) { "{cement}: open after that, min" }
    product_coats(cement: &str) { "{cement}: coats on each side" }
    save_cements() { "Save the cements" }
    not_minutes(field: &str, typed: &str, most: u32) {
        "{field}: “{typed}” is not a whole number of minutes from 0 to {most}."
    }
    not_coats(field: &str, typed: &str, most: u32) { "{field}: “{typed}” is not a number of coats from 1 to {most}." }
    own_ways() { "This shop's own ways" }
    own_ways_say() { "Where this shop glues two materials in another way than the guide." }
    as_the_guide() { "As the guide says" }
    cement_of_way() { "Cement of this way" }
    primer_of_way() { "Primer of this way (empty: the guide's)" }
    note_of_way() { "Note on this way" }
    save_way() { "Save this way" }
    choose_both() { "Choose first what is glued on, and to what." }
    way_of(on: &str, to: &str) { "{on} on {to}" }
    without_way(on: &str, to: &str) { "Without the way for {on} on {to}" }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn legal_values_name_their_source_and_defer() {
        for text in [toluene_limit("0.1"), hexane_limit(20, 72)] {
            assert!(text.ends_with("Local rules come first."), "{text}");
        }
        assert!(toluene_limit("0.1").contains("entry 48") && toluene_limit("0.1").contains("668"));
        assert!(hexane_limit(20, 72).contains("2006/15/EC") && hexane_limit(20, 72).contains("secondary"));
    }

    #[test]
    fn sourced_times_say_so() {
        for text in [trim_after(45), full_strength(24, 48)] {
            assert!(text.contains("Source: ") && text.contains("secondary"), "{text}");
        }
        assert!(
            sheet_first().contains("no source") && sheet_first().contains("sheet of the tin comes first")
        );
    }
}
