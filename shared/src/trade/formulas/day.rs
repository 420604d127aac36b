//! Days of the Gregorian calendar, as a count.
//!
//! The arithmetic by eras of 400 years is that of H. Hinnant, "chrono-Compatible Low-Level Date Algorithms".
//! A library's calendar was tried here: `jiff` would make the app's first screen 30 KB larger (brotli).

use std::fmt;

use serde::{Deserialize, Deserializer, Serialize, Serializer};

const ERA_DAYS: i64 = 146_097;
/// Days from 0000-03-01 to 1970-01-01.
const EPOCH: i64 = 719_468;
/// The last year that RFC 3339 can write.
const LAST_YEAR: i64 = 9_999;

/// A day, as days since 1970-01-01.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Day(i64);

impl Day {
    /// The day of a date; `None` if the date does not exist, or its year is not 0 to 9999.
    pub fn of(year: i64, month: i64, day: i64) -> Option<Self> {
        let lengths = [
            31,
            if leap(year) { 29 } else { 28 },
            31,
            30,
            31,
            30,
            31,
            31,
            30,
            31,
            30,
            31,
        ];
        let length = *lengths.get(usize::try_from(month - 1).ok()?)?;
        let there = (0..=LAST_YEAR).contains(&year) && (1..=length).contains(&day);
        there.then(|| Self::of_date(year, month, day))
    }

    fn of_date(year: i64, month: i64, day: i64) -> Self {
        // Years are counted from March, so that the leap day is at the end.
        let year = if month <= 2 { year - 1 } else { year };
        let era = year.div_euclid(400);
        let year_of_era = year.rem_euclid(400);
        let day_of_year = (153 * ((month + 9) % 12) + 2) / 5 + day - 1;
        let day_of_era = year_of_era * 365 + year_of_era / 4 - year_of_era / 100 + day_of_year;
        Self(era * ERA_DAYS + day_of_era - EPOCH)
    }

    /// Its year, month and day.
    pub fn date(self) -> (i64, i64, i64) {
        let shifted = self.0 + EPOCH;
        let (era, day_of_era) = (shifted.div_euclid(ERA_DAYS), shifted.rem_euclid(ERA_DAYS));
        let year_of_era =
            (day_of_era - day_of_era / 1_460 + day_of_era / 36_524 - day_of_era / 146_096) / 365;
        let day_of_year = day_of_era - (365 * year_of_era + year_of_era / 4 - year_of_era / 100);
        let from_march = (5 * day_of_year + 2) / 153;
        let day = day_of_year - (153 * from_march + 2) / 5 + 1;
        let month = if from_march < 10 {
            from_march + 3
        } else {
            from_march - 9
        };
        let year = era * 400 + year_of_era + i64::from(month <= 2);
        (year, month, day)
    }

    /// Days since 1970-01-01.
    pub fn count(self) -> i64 {
        self.0
    }

    /// The day that is so many days after 1970-01-01; `None` unless its year is 0 to 9999.
    pub fn counted(days: i64) -> Option<Self> {
        let (first, last) = (Self::of_date(0, 1, 1), Self::of_date(LAST_YEAR, 12, 31));
        (first.0..=last.0).contains(&days).then_some(Self(days))
    }

    /// The day of the week, from 0 for Monday to 6 for Sunday.
    pub fn weekday(self) -> usize {
        // 1970-01-01 was a Thursday.
        usize::try_from((self.0 + 3).rem_euclid(7)).unwrap_or(0)
    }

    /// The day so many months later, or the last day of that month if it is shorter; `None` after the year 9999.
    pub fn months_later(self, months: u32) -> Option<Self> {
        let (year, month, day) = self.date();
        let all = year * 12 + month - 1 + i64::from(months);
        let (year, month) = (all.div_euclid(12), all.rem_euclid(12) + 1);
        let shortened = (28..day).rev();
        std::iter::once(day)
            .chain(shortened)
            .find_map(|day| Self::of(year, month, day))
    }

    /// The date as people read it: `2 March 2026`.
    pub fn words(self) -> String {
        let (year, month, day) = self.date();
        words::time::date(year, month, day)
    }

    /// The date without its year: `2 March`.
    pub fn words_without_year(self) -> String {
        let (_, month, date) = self.date();
        words::time::day_and_month(month, date)
    }

    /// Reads `YYYY-MM-DD`, the full-date of RFC 3339.
    pub fn parse(text: &str) -> Option<Self> {
        let bytes = text.as_bytes();
        let shaped = bytes.len() == 10 && bytes[4] == b'-' && bytes[7] == b'-';
        if !shaped {
            return None;
        }
        Self::of(
            digits(text.get(..4)?)?,
            digits(text.get(5..7)?)?,
            digits(text.get(8..)?)?,
        )
    }
}

fn leap(year: i64) -> bool {
    year % 4 == 0 && (year % 100 != 0 || year % 400 == 0)
}

/// A number of digits only: `parse` alone would also accept a sign.
pub(super) fn digits(text: &str) -> Option<i64> {
    let all = !text.is_empty() && text.bytes().all(|byte| byte.is_ascii_digit());
    all.then(|| text.parse().ok()).flatten()
}

impl fmt::Display for Day {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (year, month, day) = self.date();
        write!(f, "{year:04}-{month:02}-{day:02}")
    }
}

impl Serialize for Day {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        to.collect_str(self)
    }
}

impl<'de> Deserialize<'de> for Day {
    fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
        let text = String::deserialize(from)?;
        Self::parse(&text).ok_or_else(|| serde::de::Error::custom("a day as YYYY-MM-DD"))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// Unix time: 2000-03-01 is day 11017, 2022-02-22 (the example of RFC 9562, appendix A.6) day 19045.
    #[test]
    fn known_days() {
        for (text, count) in [
            ("1970-01-01", 0),
            ("2000-03-01", 11_017),
            ("2022-02-22", 19_045),
            ("1969-12-31", -1),
        ] {
            let day = Day::parse(text).unwrap();
            assert_eq!((day.count(), day.to_string()), (count, text.to_owned()));
        }
    }

    #[test]
    fn days_that_never_were() {
        for text in [
            "2023-02-29",
            "1900-02-29",
            "2024-13-01",
            "2024-00-01",
            "2024-04-31",
            "2024-1-01",
            "+024-01-01",
            "2024-01-é",
            "",
        ] {
            assert_eq!(Day::parse(text), None, "{text}");
        }
        assert!(Day::parse("2000-02-29").is_some() && Day::parse("2024-02-29").is_some());
    }

    #[test]
    fn a_later_month_that_is_shorter_ends_earlier() {
        let cases = [
            ("2026-03-02", 3, "2026-06-02"),
            ("2026-11-30", 3, "2027-02-28"),
            ("2027-11-30", 3, "2028-02-29"),
            ("2026-08-31", 3, "2026-11-30"),
            ("2026-01-31", 12, "2027-01-31"),
            ("2026-12-01", 1, "2027-01-01"),
        ];
        for (day, months, later) in cases {
            let day = Day::parse(day).unwrap();
            assert_eq!(day.months_later(months), Day::parse(later), "{day} + {months}");
        }
        assert_eq!(Day::parse("9999-12-31").unwrap().months_later(1), None);
    }

    /// ISO 8601: Monday is the first day of the week. 1970-01-01 was a Thursday, 2026-11-29 a Sunday.
    #[test]
    fn weekdays() {
        let of = |text: &str| Day::parse(text).unwrap().weekday();
        assert_eq!(
            ["1970-01-01", "1969-12-28", "2026-11-29", "2026-11-30"].map(of),
            [3, 6, 6, 0]
        );
    }

    proptest! {
        #[test]
        fn every_day_has_a_date_and_the_next_is_another(count in -719_000i64..2_900_000) {
            let (day, next) = (Day::counted(count).unwrap(), Day::counted(count + 1).unwrap());
            let (year, month, of_month) = day.date();
            prop_assert_eq!(Day::of(year, month, of_month), Some(day));
            prop_assert!(next.date() > day.date());
        }
    }
}
