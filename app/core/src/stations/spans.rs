//! Days and durations in the words of a list: how near a promised day is, how long a pair has been ready, how long a
//! wait still takes.

use shared::log::UnixMs;
use shared::trade::formulas::day::Day;

const MINUTE_MS: i64 = 60_000;
const DAY_MS: i64 = 24 * 60 * MINUTE_MS;

/// How near a day is: late, today, tomorrow. `None` for later days.
pub fn nearness(day: Day, today: Day) -> Option<String> {
    match today.count() - day.count() {
        late @ 1.. => Some(words::stations::days_late(late)),
        0 => Some(words::stations::due_today().to_owned()),
        -1 => Some(words::stations::due_tomorrow().to_owned()),
        _ => None,
    }
}

/// For how many whole days a pair has been ready, in words.
pub fn ready_for(since: UnixMs, now: UnixMs) -> String {
    match (now.0 - since.0).max(0) / DAY_MS {
        0 => words::stations::ready_since_today().to_owned(),
        days => words::stations::ready_for_days(days),
    }
}

/// The time until `end` in words: to the nearest minute, because the clock on a screen is updated a little late; at
/// least one minute until `end` is reached.
pub fn time_left(end: UnixMs, now: UnixMs) -> String {
    let left = (end.0 - now.0).max(0);
    let minutes = ((left + MINUTE_MS / 2) / MINUTE_MS).max(left.min(1));
    words::stations::time_left(&minutes_in_words(minutes.unsigned_abs()))
}

/// A duration in words: `25 min`, `3 h 10 min`, `24 h`.
pub fn minutes_in_words(minutes: u64) -> String {
    match (minutes / 60, minutes % 60) {
        (0, minutes) => words::time::minutes(minutes),
        (hours, 0) => words::time::hours(hours),
        (hours, minutes) => words::time::hours_and_minutes(hours, minutes),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const NOW: UnixMs = UnixMs(1_000_000_000);

    #[test]
    fn days_are_late_near_or_nothing_to_speak_of() {
        let near = |day, today| nearness(Day::parse(day)?, Day::parse(today)?);
        let cases = [
            ("2027-02-28", Some("1 day late")),
            ("2027-03-01", Some("today")),
            ("2027-03-02", Some("tomorrow")),
            ("2026-12-31", Some("60 days late")),
            ("2027-03-03", None),
        ];
        for (day, words) in cases {
            assert_eq!(near(day, "2027-03-01").as_deref(), words, "{day}");
        }
        // 2028 is a leap year.
        assert_eq!(near("2028-02-28", "2028-03-01").as_deref(), Some("2 days late"));
    }

    #[test]
    fn time_left_is_said_to_the_nearest_minute() {
        let left = |ms| time_left(UnixMs(NOW.0 + ms), NOW);
        assert_eq!(left(1), "1\u{a0}min left");
        assert_eq!(left(15 * 60_000), "15\u{a0}min left");
        assert_eq!(
            left(15 * 60_000 + 20_000),
            "15\u{a0}min left",
            "begun since the clock was read"
        );
        assert_eq!(left(190 * 60_000), "3\u{a0}h 10\u{a0}min left");
        assert_eq!(left(24 * 3_600_000), "24\u{a0}h left");
        assert_eq!(left(-5), "0\u{a0}min left");
    }
}
