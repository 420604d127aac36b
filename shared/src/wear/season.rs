//! A distant day in everyday words: "spring 2027", "this winter", "in about 8 months".
//!
//! Seasons are whole months as in weather records of the northern hemisphere: spring begins in March, summer in June,
//! autumn in September, winter in December. A shop south of the equator is told months instead.

use super::wear_forecast::DAYS_PER_MONTH;
use crate::trade::formulas::day::Day;

/// A season that ends within so many months is "this" one.
const THIS: i64 = 4;

/// The season of a day, as it is said on the day `today`: `now` for a day that has come, `this winter` for a season
/// that has begun or comes next, otherwise with its year, and with `early` or `late` for its first or last month:
/// `early summer 2027`, `winter 2027/28`.
pub fn season(day: Day, today: Day) -> String {
    if day <= today {
        return words::wear::now().to_owned();
    }
    let (year, month, _) = day.date();
    let (this_year, this_month, _) = today.date();
    let part = part_of_season(month);
    let ahead = (year - this_year) * 12 + month - this_month;
    // The months of the season that come after the month of the day.
    let rest = 2 - month % 3;
    if ahead + rest < THIS {
        return if ahead == 0 || month % 3 == 1 {
            words::wear::this_season(whole_season(month))
        } else {
            part.to_owned()
        };
    }
    match month {
        // A winter has two years, because it begins in December.
        12 => words::wear::winter_of_years(part, year, (year + 1) % 100),
        1 | 2 => words::wear::winter_of_years(part, year - 1, year % 100),
        _ => words::wear::season_of_year(part, year),
    }
}

/// The season in which a month lies.
fn whole_season(month: i64) -> &'static str {
    match month {
        3..=5 => words::wear::spring(),
        6..=8 => words::wear::summer(),
        9..=11 => words::wear::autumn(),
        _ => words::wear::winter(),
    }
}

/// The season in which a month lies, early in its first month and late in its last.
fn part_of_season(month: i64) -> &'static str {
    match month {
        12 => words::wear::early_winter(),
        2 => words::wear::late_winter(),
        3 => words::wear::early_spring(),
        5 => words::wear::late_spring(),
        6 => words::wear::early_summer(),
        8 => words::wear::late_summer(),
        9 => words::wear::early_autumn(),
        11 => words::wear::late_autumn(),
        _ => whole_season(month),
    }
}

/// How far in the future a day is: `now`, `in about 3 weeks`, `in about 8 months`, `in about 2 years`.
pub fn about(day: Day, today: Day) -> String {
    let days = day.count() - today.count();
    let months = days as f64 / DAYS_PER_MONTH;
    match days {
        ..=3 => words::wear::now().to_owned(),
        4..=45 => words::wear::in_about_weeks((days as f64 / 7.0).round().max(1.0) as i64),
        _ if months < 21.0 => words::wear::in_about_months(months.round() as i64),
        _ => words::wear::in_about_years((months / 12.0).round() as i64),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn day(text: &str) -> Day {
        Day::parse(text).unwrap()
    }

    #[test]
    fn a_day_as_people_say_it() {
        for (of, said, far) in [
            ("2026-11-26", "now", "now"),
            ("2025-01-01", "now", "now"),
            ("2026-11-29", "this autumn", "now"),
            ("2026-12-20", "early winter", "in about 3 weeks"),
            ("2027-01-15", "this winter", "in about 2 months"),
            ("2027-04-15", "spring 2027", "in about 5 months"),
            ("2027-06-02", "early summer 2027", "in about 6 months"),
            ("2027-08-20", "late summer 2027", "in about 9 months"),
            ("2027-12-24", "early winter 2027/28", "in about 13 months"),
            ("2029-02-03", "late winter 2028/29", "in about 2 years"),
            ("2100-01-10", "winter 2099/00", "in about 73 years"),
        ] {
            assert_eq!(
                (
                    season(day(of), day("2026-11-26")).as_str(),
                    about(day(of), day("2026-11-26")).as_str()
                ),
                (said, far),
                "{of}"
            );
        }
        assert_eq!(about(day("2026-12-30"), day("2026-12-24")), "in about 1 week");
    }

    proptest! {
        #[test]
        fn every_day_has_a_season(count in 7_305i64..60_000, ahead in -400i64..4_000) {
            let (day, today) = (Day::counted(count + ahead), Day::counted(count));
            let said = season(day.unwrap(), today.unwrap());
            let named = (1..=12).any(|month| said.contains(whole_season(month)));
            prop_assert!(said == "now" || named, "{}", said);
            prop_assert_eq!(ahead <= 0, said == "now");
        }
    }
}
