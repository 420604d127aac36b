//! Moments in the notation of RFC 3339, with the offset with which they were written.

use std::fmt;

use serde::{Deserialize, Deserializer, Serialize, Serializer};

use super::day::{Day, digits};

const DAY_S: i64 = 86_400;

/// A moment: seconds and nanoseconds of local time, and the offset of local time from UTC.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Instant {
    local_s: i64,
    nanos: u32,
    offset_minutes: i64,
}

impl Instant {
    /// Reads a `date-time` of RFC 3339, section 5.6. Leap seconds are not accepted, because no bench needs them; of a
    /// fraction nine digits are read.
    pub fn parse(text: &str) -> Option<Self> {
        let day = Day::parse(text.get(..10)?)?;
        text.get(10..11)
            .filter(|separator| matches!(*separator, "T" | "t" | " "))?;
        let time = text.get(11..19)?;
        let colons = time.as_bytes()[2] == b':' && time.as_bytes()[5] == b':';
        let part =
            |from: usize, most: i64| digits(time.get(from..from + 2)?).filter(|part| colons && *part <= most);
        let seconds = part(0, 23)? * 3_600 + part(3, 59)? * 60 + part(6, 59)?;
        let (nanos, offset) = fraction(text.get(19..)?)?;
        Some(Self {
            local_s: day.count() * DAY_S + seconds,
            nanos,
            offset_minutes: offset_minutes(offset)?,
        })
    }

    /// The moment so many seconds of UTC after 1970, on a clock that is so many minutes ahead of UTC; `None` outside
    /// the years 0 to 9999, and for an offset of more than a day.
    pub fn at(unix_s: i64, offset_minutes: i64) -> Option<Self> {
        let local_s = unix_s.checked_add(offset_minutes.checked_mul(60)?)?;
        Day::counted(local_s.div_euclid(DAY_S)).filter(|_| offset_minutes.abs() < DAY_S / 60)?;
        Some(Self {
            local_s,
            nanos: 0,
            offset_minutes,
        })
    }

    /// The moment so many minutes later, with the same offset; `None` after the year 9999.
    pub fn after(self, minutes: i64) -> Option<Self> {
        let local_s = self.local_s.checked_add(minutes.checked_mul(60)?)?;
        Day::counted(local_s.div_euclid(DAY_S))?;
        Some(Self { local_s, ..self })
    }

    /// Seconds of UTC since 1970, without the fraction.
    pub fn unix_s(self) -> i64 {
        self.local_s - self.offset_minutes * 60
    }
}

/// Splits `.25Z` into nanoseconds and the remaining text.
fn fraction(text: &str) -> Option<(u32, &str)> {
    let Some(rest) = text.strip_prefix('.') else {
        return Some((0, text));
    };
    let many = rest.bytes().take_while(u8::is_ascii_digit).count();
    let (fraction, after) = rest.split_at(many);
    let nine: String = fraction.chars().chain("000000000".chars()).take(9).collect();
    (many > 0).then_some((u32::try_from(digits(&nine)?).ok()?, after))
}

/// Reads `Z`, `+01:00` or `-05:30`.
fn offset_minutes(text: &str) -> Option<i64> {
    if matches!(text, "Z" | "z") {
        return Some(0);
    }
    let sign = match text.get(..1)? {
        "+" => 1,
        "-" => -1,
        _ => return None,
    };
    let shaped = text.len() == 6 && text.get(3..4)? == ":";
    let (hours, minutes) = (digits(text.get(1..3)?)?, digits(text.get(4..)?)?);
    (shaped && hours <= 23 && minutes <= 59).then_some(sign * (hours * 60 + minutes))
}

impl fmt::Display for Instant {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let day = Day::counted(self.local_s.div_euclid(DAY_S)).ok_or(fmt::Error)?;
        let seconds = self.local_s.rem_euclid(DAY_S);
        write!(
            f,
            "{day}T{:02}:{:02}:{:02}",
            seconds / 3_600,
            seconds / 60 % 60,
            seconds % 60
        )?;
        if self.nanos != 0 {
            let digits = format!("{:09}", self.nanos);
            write!(f, ".{}", digits.trim_end_matches('0'))?;
        }
        match self.offset_minutes {
            0 => f.write_str("Z"),
            minutes => {
                let sign = if minutes < 0 { '-' } else { '+' };
                write!(f, "{sign}{:02}:{:02}", minutes.abs() / 60, minutes.abs() % 60)
            }
        }
    }
}

impl Serialize for Instant {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        to.collect_str(self)
    }
}

impl<'de> Deserialize<'de> for Instant {
    fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
        let text = String::deserialize(from)?;
        Self::parse(&text).ok_or_else(|| serde::de::Error::custom("a moment by RFC 3339"))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// RFC 3339, section 5.8: its examples, without the leap seconds.
    #[test]
    fn examples_of_the_standard() {
        let first = Instant::parse("1985-04-12T23:20:50.52Z").unwrap();
        assert_eq!(
            (first.unix_s(), first.to_string().as_str()),
            (482_196_050, "1985-04-12T23:20:50.52Z")
        );
        let same = Instant::parse("1996-12-19T16:39:57-08:00").unwrap();
        assert_eq!(
            same.unix_s(),
            Instant::parse("1996-12-20T00:39:57Z").unwrap().unix_s()
        );
        assert_eq!(
            Instant::parse("1937-01-01T12:00:27.87+00:20")
                .unwrap()
                .to_string(),
            "1937-01-01T12:00:27.87+00:20"
        );
    }

    #[test]
    fn a_clock_ahead_of_greenwich_writes_its_own_time() {
        let moment = Instant::at(482_196_050, 60).unwrap();
        assert_eq!(moment.to_string(), "1985-04-13T00:20:50+01:00");
        assert_eq!(moment.unix_s(), 482_196_050);
        assert_eq!(Instant::at(0, 1_440), None);
        assert_eq!(Instant::at(i64::MAX, 0), None);
    }

    #[test]
    fn what_is_no_moment() {
        for text in [
            "2025-03-01T18:00",
            "2025-03-01T24:00:00Z",
            "2025-03-01T18:60:00Z",
            "2025-03-01T18:00:00",
            "2025-03-01T18:00:00+1:00",
            "2025-03-01T18:00:00.Z",
            "2025-02-29T18:00:00Z",
            "2025-03-01T18-00-00Z",
            "2025-03-01Té8:00:00Z",
            "tomorrow",
        ] {
            assert_eq!(Instant::parse(text), None, "{text}");
        }
    }

    #[test]
    fn the_calendar_ends() {
        let late = Instant::parse("9999-12-31T23:59:00Z").unwrap();
        assert_eq!(late.after(1), None);
        assert!(late.after(0).is_some() && late.after(i64::MAX).is_none());
    }

    proptest! {
        #[test]
        fn minutes_are_minutes_across_days_and_years(start in 0i64..4_000_000, minutes in 0i64..600_000, offset in -600i64..840) {
            let start = Instant { local_s: start * 997, nanos: 0, offset_minutes: offset };
            let later = start.after(minutes).unwrap();
            prop_assert_eq!(later.unix_s() - start.unix_s(), minutes * 60);
            prop_assert_eq!(Instant::parse(&later.to_string()), Some(later));
        }
    }
}
