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
    autumn() { "autumn" }
    early_autumn() { "early autumn" }
    late_autumn() { "late autumn" }
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
    by_measurements(count: usize) { "by {count} measurements of this part" }
    by_lives_of_parts(count: usize) { "by the lives of {count} such parts" }
}
