//! Sentences of days, months, times and spans.

use crate::sentence::sentences;
use crate::{Language, current};

// How long something lasted or takes.
sentences! {
    less_than_a_day() { "less than a day" }
    days(count: i64) { one "1 day", many "{count} days" }
    months(count: i64) { one "1 month", many "{count} months" }
    years(count: i64) { one "1 year", many "{count} years" }
    years_and_months(years: &str, months: &str) { "{years} {months}" }
    minutes(count: u64) { "{count}\u{a0}min" }
    hours(count: u64) { "{count}\u{a0}h" }
    hours_and_minutes(hours: u64, minutes: u64) { "{hours}\u{a0}h {minutes}\u{a0}min" }
}

// A moment in a list of the plan, whose times are true to about five minutes.
sentences! {
    about(time: &str) { "about {time}" }
    tomorrow_about(time: &str) { "tomorrow, about {time}" }
    yesterday_about(time: &str) { "yesterday, about {time}" }
    weekday_about(weekday: &str, time: &str) { "{weekday}, about {time}" }
}

/// The name of a month, from 1 for January; empty for any other number.
#[must_use]
pub fn month(from_one: i64) -> &'static str {
    match from_one {
        1 => "January",
        2 => "February",
        3 => "March",
        4 => "April",
        5 => "May",
        6 => "June",
        7 => "July",
        8 => "August",
        9 => "September",
        10 => "October",
        11 => "November",
        12 => "December",
        _ => "",
    }
}

/// A date: `2 March 2026`, or `March 2, 2026`.
#[must_use]
pub fn date(year: i64, month: i64, day: i64) -> String {
    let month = self::month(month);
    match current() {
        Language::British => format!("{day} {month} {year:04}"),
        Language::American => format!("{month} {day}, {year:04}"),
    }
}

/// A date whose year is known: `2 March`, or `March 2`.
#[must_use]
pub fn day_and_month(month: i64, day: i64) -> String {
    let month = self::month(month);
    match current() {
        Language::British => format!("{day} {month}"),
        Language::American => format!("{month} {day}"),
    }
}

/// A month of a year: `March 2026`.
#[must_use]
pub fn month_and_year(year: i64, month: i64) -> String {
    format!("{} {year:04}", self::month(month))
}

sentences! {
    /// A day in words after the name of its day of the week.
    on_weekday(weekday: &str, day: &str) { british "{weekday} {day}", american "{weekday}, {day}" }
    /// A day in a row of near days: the short name of its day of the week, and its number in the month.
    weekday_and_date(weekday: &str, date: i64) { "{weekday} {date}" }
    /// A moment: the day in words, and the time of the day.
    day_and_time(day: &str, hour: u32, minute: u32) { "{day}, {hour:02}:{minute:02}" }
    /// For when something is promised: a day, with or without an hour.
    promised_for(promise: &str) { "for {promise}" }
}

/// The name of a day of the week, counted from 0 for Monday (ISO 8601); empty from 7 on.
#[must_use]
pub fn weekday(from_monday: usize) -> &'static str {
    match from_monday {
        0 => "Monday",
        1 => "Tuesday",
        2 => "Wednesday",
        3 => "Thursday",
        4 => "Friday",
        5 => "Saturday",
        6 => "Sunday",
        _ => "",
    }
}

/// The short name of a day of the week, counted from 0 for Monday; empty from 7 on.
#[must_use]
pub fn weekday_in_short(from_monday: usize) -> &'static str {
    match from_monday {
        0 => "Mon",
        1 => "Tue",
        2 => "Wed",
        3 => "Thu",
        4 => "Fri",
        5 => "Sat",
        6 => "Sun",
        _ => "",
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::speaking;

    #[test]
    fn dates_have_the_order_of_the_language() {
        let said = || (date(2026, 3, 2), day_and_month(12, 17), month_and_year(987, 1));
        let words = |one: &str, two: &str| (one.to_owned(), two.to_owned(), "January 0987".to_owned());
        assert_eq!(said(), words("2 March 2026", "17 December"));
        let american = speaking(Language::American, said);
        assert_eq!(american, words("March 2, 2026", "December 17"));
    }
}
