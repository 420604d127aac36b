//! Sentences of the working hours.

use crate::sentence::sentences;

sentences! {
    hours() { "Hours" }
    when_work_is_done() { "When work is done at the bench. The plan and the days promised are made of it." }
    closed_on() { "Closed on, days with commas" }
    counter_share() { british "Time for the counter, per cent", american "Time for the counter, percent" }
    at_the_bench() { "At the bench at a time" }
    time_zone() { "Time zone" }
    suggested_day_is_kept_in() { "A suggested day is kept in:" }
    share_of_hundred(share: u32) { "{share} of 100" }
    save_hours() { "Save hours" }
    /// A range of days as it is typed; [`between_days`] takes it apart.
    days_from_to(first: &str, last: &str) { "{first} to {last}" }
    /// What separates the two days of [`days_from_to`].
    between_days() { " to " }
    not_hours(weekday: &str, typed: &str) {
        "{weekday}: “{typed}” are no hours. For example 9-13, 14-18; nothing for a closed day."
    }
    not_a_day(typed: &str) { "“{typed}” is no day. For example 2027-01-01, or 2026-12-24 to 2027-01-02." }
    not_a_whole_number(what: &str, least: u32, most: u32) { "{what}: a whole number from {least} to {most}." }
    /// Names the field in [`not_a_whole_number`].
    time_for_the_counter() { "Time for the counter" }
}
