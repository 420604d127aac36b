//! Sentences of answers over many records.

use crate::sentence::sentences;

// What a line of the price list takes, carries and earns.
sentences! {
    norms_only() { "Norms only: no finished job of this yet." }
    rests_on_jobs(jobs: u32) { one "Rests on 1 job and the norms.", many "Rests on {jobs} jobs." }
    takes_minutes(half: f64, nine_in_ten: f64) { "About {half:.0} min, one in ten over {nine_in_ten:.0} min." }
    material_costs(amount: &str) { "Material {amount}." }
    carried_needed_work(minutes: f64, worth: &str) {
        "It carried {minutes:.0} min a job of needed work nobody paid for, worth {worth}."
    }
    hidden_damage_expected(amount: &str) { "To be expected: {amount} a job for what is hidden." }
    given_by_choice(minutes: f64, worth: &str) { "On the house: {minutes:.0} min a job, worth {worth}." }
    hour_earned(amount: &str) { "An hour earned {amount}." }
    characters_allowed(most: usize) { "1 to {most} characters" }
}

// The table of the books: its columns and its rows.
sentences! {
    /// The heading of what the rows are of, in the file for a spreadsheet.
    head_of_rows() { "Of" }
    head_currency() { "Currency" }
    head_jobs() { "Jobs" }
    head_charged() { "Charged" }
    head_tax() { "Tax" }
    head_material() { "Material" }
    head_hours() { "Hours" }
    head_hour_earned() { "An hour earned" }
    head_no_charge_needed() { "No charge, needed" }
    head_no_charge_by_choice() { "On the house" }
    head_made_good() { "Made good" }
    head_deposits() { "Deposits" }
    head_paid_at_pickup() { british "Paid at collection", american "Paid at pickup" }
    head_given_back() { "Given back" }
    head_still_owed() { "Still owed" }
    construction_not_known() { "Not known" }
    nobody_named() { "Nobody named" }
    sundries() { british "Sundries", american "Accessories" }
    redone_for_our_work(jobs: u32) { "{jobs} our work" }
    redone_for_material(jobs: u32) { "{jobs} material" }
    redone_for_wear(jobs: u32) { "{jobs} wear" }
    redone_for_cement(jobs: u32) { "{jobs} cement" }
    redone_for_seam(jobs: u32) { "{jobs} seam" }
    redone_for_fit(jobs: u32) { "{jobs} fit" }
    redone_for_colour(jobs: u32) { british "{jobs} colour", american "{jobs} color" }
    redone_for_not_as_agreed(jobs: u32) { "{jobs} not as agreed" }
    redone_for_hidden_damage(jobs: u32) { "{jobs} hidden damage" }
    redone_for_use(jobs: u32) { "{jobs} use" }
    redone_for_other_cause(jobs: u32) { "{jobs} other" }
    /// A cause that a newer version of the program wrote, by its word.
    redone_for_newer_cause(jobs: u32, cause: &str) { "{jobs} {cause}" }
    redone_for_unknown_cause(jobs: u32) { "{jobs} not known" }
    steps_done_again(steps: u32) { "{steps} steps again" }
}
