//! Sentences of how long parts last, and when to look again.

use crate::sentence::sentences;

// A distant day as a season.
sentences! {
    now() { "now" }
    winter() { "winter" }
    early_winter() { "early winter" }
    late_winter() { "late winter" }
    spring() { "spring" }
    early_spring() { "early spring" }
    late_spring() { "late spring" }
    summer() { "summer" }
    early_summer() { "early summer" }
    late_summer() { "late summer" }
    autumn() { british "autumn", american "fall" }
    early_autumn() { british "early autumn", american "early fall" }
    late_autumn() { british "late autumn", american "late fall" }
    this_season(season: &str) { "this {season}" }
    season_of_year(season: &str, year: i64) { "{season} {year}" }
    /// A winter has two years; of the second only the last two digits are written.
    winter_of_years(winter: &str, first: i64, second: i64) { "{winter} {first}/{second:02}" }
    season_between_days(season: &str, from: &str, until: &str) { "{season}, between {from} and {until}" }
}

// How far a day is ahead, and what its forecast is based on.
sentences! {
    in_about_weeks(weeks: i64) { one "in about 1 week", many "in about {weeks} weeks" }
    in_about_months(months: i64) { one "in about 1 month", many "in about {months} months" }
    in_about_years(years: i64) { one "in about 1 year", many "in about {years} years" }
    by_measurements(count: usize) {
        one "by 1 measurement of this part",
        many "by {count} measurements of this part"
    }
    by_lives_of_parts(count: usize) { "by the lives of {count} such parts" }
}

// Why the thicknesses of a part forecast no day.
sentences! {
    measures_too_close(days: i64, again: &str) {
        one "The measures lie only 1 day apart: measure again on {again} or later.",
        many "The measures lie only {days} days apart: measure again on {again} or later."
    }
    measured_on_one_day(again: &str) { "It was measured on one day only: measure again on {again} or later." }
    hardly_worn() { "Between the measures it has hardly worn." }
}
