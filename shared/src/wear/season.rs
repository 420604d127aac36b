//! A distant day in everyday words: "spring 2027", "this winter", "in about 8 months".
//!
//! Seasons are whole months as in weather records of the northern hemisphere: spring begins in March, summer in June,
//! autumn in September, winter in December. A shop south of the equator is told months instead.

use super::wear_forecast::DAYS_PER_MONTH;
use crate::trade::formulas::day::Day;

const NAMES: [&str; 4] = ["winter", "spring", "summer", "autumn"];
/// A season that ends within so many months is "this" one.
const THIS: i64 = 4;

/// The season of a day, as it is said on the day `today`: `now` for a day that has come, `this winter` for a season
/// that has begun or comes next, otherwise with its year, and with `early` or `late` for its first or last month:
/// `early summer 2027`, `winter 2027/28`.
pub fn season(day: Day, today: Day) -> String {
    if day <= today {
        return "now".to_owned();
    }
    let (year, month, _) = day.date();
    let (this_year, this_month, _) = today.date();
    let name = NAMES
        .get(usize::try_from(month % 12 / 3).unwrap_or(0))
        .copied()
        .unwrap_or("winter");
    let part = match month % 3 {
        0 => "early ",
        2 => "late ",
        _ => "",
    };
    let ahead = (year - this_year) * 12 + month - this_month;
    // The months of the season that come after the month of the day.
    let rest = 2 - month % 3;
    if ahead + rest < THIS {
        return match (ahead, part) {
            (0, _) | (_, "") => format!("this {name}"),
            _ => format!("{part}{name}"),
        };
    }
    match (name, month) {
        // A winter has two years, because it begins in December.
        ("winter", 12) => format!("{part}winter {year}/{:02}", (year + 1) % 100),
        ("winter", _) => format!("{part}winter {}/{:02}", year - 1, year % 100),
        _ => format!("{part}{name} {year}"),
    }
}

/// How far in the future a day is: `now`, `in about 3 weeks`, `in about 8 months`, `in about 2 years`.
pub fn about(day: Day, today: Day) -> String {
    let days = day.count() - today.count();
    let months = days as f64 / DAYS_PER_MONTH;
    let (count, unit) = match days {
        ..=3 => return "now".to_owned(),
        4..=45 => ((days as f64 / 7.0).round().max(1.0), "week"),
        _ if months < 21.0 => (months.round(), "month"),
        _ => ((months / 12.0).round(), "year"),
    };
    let many = if count == 1.0 { "" } else { "s" };
    format!("in about {count} {unit}{many}")
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
            prop_assert!(said == "now" || NAMES.iter().any(|name| said.contains(name)), "{}", said);
            prop_assert_eq!(ahead <= 0, said == "now");
        }
    }
}
