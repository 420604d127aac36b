//! Opening hours as windows of minutes. They are counted from midnight on the shop's own clock before the plan begins,
//! so that a day of the plan is a day of the shop.

use jiff::Timestamp;
use jiff::civil::{Date, DateTime};
use jiff::tz::{Offset, TimeZone};

use super::hours::{Hours, clock, minute as minute_of};
use crate::log::entry::UnixMs;
use crate::trade::formulas::day::Day;

/// Seconds of a minute.
const MINUTE: i64 = 60;
/// Milliseconds of a minute.
const MINUTE_MS: i64 = 60_000;
/// Minutes to which the times of a plan are rounded in words.
const FIVE: i64 = 5;

/// The hours of a shop on its own clock.
#[derive(Debug, Clone)]
pub struct Week {
    /// The settings of the shop.
    pub hours: Hours,
    zone: TimeZone,
    /// Minutes from 1970-01-01T00:00Z to the midnight from which minutes are counted.
    zero: i64,
    /// The current minute, counted from there.
    pub now: i64,
}

impl Week {
    /// Hours on the clock of the shop's time zone; if that is not known, of `zone`; if that is not known either, at a
    /// fixed offset in minutes east of Greenwich.
    pub fn new(hours: Hours, zone: &str, offset_min: i16, now: UnixMs) -> Self {
        let known = [hours.zone.as_str(), zone];
        let known = known.into_iter().filter(|name| !name.is_empty());
        let found = known.flat_map(TimeZone::get).next();
        let fixed = || {
            let offset = Offset::from_seconds(i32::from(offset_min) * 60);
            TimeZone::fixed(offset.unwrap_or(Offset::UTC))
        };
        let mut week = Self {
            hours,
            zone: found.unwrap_or_else(fixed),
            zero: 0,
            now: now.0.div_euclid(MINUTE_MS),
        };
        let midnight = week.local(week.now).date().at(0, 0, 0, 0);
        let zero = week.minute(midnight).unwrap_or(week.now);
        week.now -= zero;
        week.zero = zero;
        week
    }

    /// A moment as a minute of this week.
    pub fn since(&self, at: UnixMs) -> i64 {
        at.0.div_euclid(MINUTE_MS) - self.zero
    }

    /// A minute of this week as a moment.
    pub fn at(&self, minute: i64) -> UnixMs {
        UnixMs((minute + self.zero).saturating_mul(MINUTE_MS))
    }

    /// The windows from now on, over so many days.
    pub fn windows(&self, days: usize) -> Vec<[i64; 2]> {
        let first = self.local(self.now).date();
        let all = first.series(jiff::Span::new().days(1)).take(days);
        let windows = all.flat_map(|date| self.on(date));
        windows.filter(|window| window[1] > self.now).collect()
    }

    /// The minute by which promised work has to be done. `from` is the time of the day, `HH:MM`, from which it is
    /// promised; if there is none, it is not a time, or it is later than the last minute of work, that last minute
    /// counts. `None` if the calendar does not reach to that day.
    pub fn due(&self, day: Day, from: Option<&str>) -> Option<i64> {
        let closes = self.closes(day)?;
        let date = civil(day)?;
        let from = from
            .and_then(minute_of)
            .and_then(|minutes| self.minute(at(date, minutes)?));
        Some(from.map_or(closes, |from| from.min(closes)))
    }

    /// The last minute of work on a day; if nobody works on it, the last minute of the day. `None` if the calendar does
    /// not reach to that day.
    pub fn closes(&self, day: Day) -> Option<i64> {
        let date = civil(day)?;
        let last = self.on(date).last().map(|window| window[1]);
        last.or_else(|| self.minute(date.tomorrow().ok()?.at(0, 0, 0, 0)))
    }

    /// The day on which a minute lies.
    pub fn day(&self, minute: i64) -> Option<Day> {
        let date = self.local(minute).date();
        Day::of(
            i64::from(date.year()),
            i64::from(date.month()),
            i64::from(date.day()),
        )
    }

    /// A minute of the plan in the words of a list: `about 10:40`, `tomorrow about 10:40`, `Thursday about 10:40`, `12
    /// March`. A plan is true to about five minutes; only the present minute is exact.
    pub fn words(&self, minute: i64) -> String {
        if minute == self.now {
            return self.time(minute);
        }
        let (at, today) = (self.local(minute), self.local(self.now).date());
        let time = self.time(self.to_five_minutes(minute));
        let days = (at.date() - today).get_days();
        match days {
            0 => words::time::about(&time),
            1 => words::time::tomorrow_about(&time),
            -1 => words::time::yesterday_about(&time),
            2..=6 => {
                let weekday = at.date().weekday().to_monday_zero_offset().unsigned_abs();
                words::time::weekday_about(words::time::weekday(usize::from(weekday)), &time)
            }
            _ => words::time::day_and_month(i64::from(at.month()), i64::from(at.day())),
        }
    }

    /// The multiple of five minutes that is nearest on the same day.
    fn to_five_minutes(&self, minute: i64) -> i64 {
        let over = minute.rem_euclid(FIVE);
        let (before, after) = (minute - over, minute - over + FIVE);
        let is_same_day = self.local(after).date() == self.local(minute).date();
        if 2 * over > FIVE && is_same_day {
            after
        } else {
            before
        }
    }

    /// The time of the day at a minute: `10:40`.
    pub fn time(&self, minute: i64) -> String {
        let at = self.local(minute);
        clock(u16::from(at.hour().unsigned_abs()) * 60 + u16::from(at.minute().unsigned_abs()))
    }

    fn on(&self, date: Date) -> Vec<[i64; 2]> {
        let closed = day_of(date).is_some_and(|day| self.hours.is_closed(day));
        let weekday = date.weekday().to_monday_zero_offset().unsigned_abs();
        let spans = self.hours.week.get(usize::from(weekday)).filter(|_| !closed);
        let minute = |minutes: u16| self.minute(at(date, minutes)?);
        let windows = spans.into_iter().flatten();
        let windows = windows.filter_map(|[from, until]| Some([minute(*from)?, minute(*until)?]));
        // When the clock is set forward, nothing of a span may be left.
        windows.filter(|window| window[0] < window[1]).collect()
    }

    /// The minute of a local time. In the hour that occurs twice it is the first; in the hour that is skipped it is
    /// what the clock would have shown.
    fn minute(&self, local: DateTime) -> Option<i64> {
        let zoned = self.zone.to_zoned(local).ok()?;
        Some(zoned.timestamp().as_second().div_euclid(MINUTE) - self.zero)
    }

    fn local(&self, minute: i64) -> DateTime {
        let second = (minute + self.zero).saturating_mul(MINUTE);
        let timestamp = Timestamp::from_second(second).unwrap_or(Timestamp::UNIX_EPOCH);
        self.zone.to_datetime(timestamp)
    }
}

fn at(date: Date, minutes: u16) -> Option<DateTime> {
    match minutes {
        1440.. => Some(date.tomorrow().ok()?.at(0, 0, 0, 0)),
        minutes => Some(date.at((minutes / 60) as i8, (minutes % 60) as i8, 0, 0)),
    }
}

fn civil(day: Day) -> Option<Date> {
    let (year, month, number) = day.date();
    Date::new(
        i16::try_from(year).ok()?,
        i8::try_from(month).ok()?,
        i8::try_from(number).ok()?,
    )
    .ok()
}

fn day_of(on: Date) -> Option<Day> {
    Day::of(i64::from(on.year()), i64::from(on.month()), i64::from(on.day()))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::log::fold::ShopState;

    fn week(zone: &str, now: &str) -> Week {
        Week::new(Hours::of(&ShopState::default()), zone, 90, moment(now))
    }

    fn moment(text: &str) -> UnixMs {
        let at: Timestamp = text.parse().unwrap();
        UnixMs(at.as_millisecond())
    }

    /// Central Europe set its clocks forward on 29 March 2026 and back on 25 October 2026, at 01:00 UTC: Directive
    /// 2000/84/EC, articles 2 and 3 (last Sunday of March and of October).
    #[test]
    fn nine_is_nine_before_and_after_the_clocks_change() {
        let cases = [
            (
                "2026-03-27T10:00:00Z",
                "2026-03-27T08:00:00Z",
                "2026-03-30T07:00:00Z",
            ),
            (
                "2026-10-23T10:00:00Z",
                "2026-10-23T07:00:00Z",
                "2026-10-26T08:00:00Z",
            ),
        ];
        for (now, friday, monday) in cases {
            let week = week("Europe/Vienna", now);
            let windows = week.windows(4);
            let opens = |at: usize| week.at(windows[at][0]);
            assert_eq!((opens(0), opens(3)), (moment(friday), moment(monday)), "{now}");
        }
    }

    #[test]
    fn a_span_over_the_change_is_as_long_as_it_is() {
        let length = |now| {
            let mut week = week("Europe/Vienna", now);
            week.hours.week[6] = vec![[0, 1440]];
            let [start, end] = week.windows(1)[0];
            end - start
        };
        assert_eq!(length("2026-03-29T00:00:00Z"), 23 * 60);
        assert_eq!(length("2026-10-25T00:00:00Z"), 25 * 60);
    }

    /// A working day that has two dates in Greenwich is still one day.
    #[test]
    fn minutes_are_counted_from_the_shops_own_midnight() {
        let week = week("Pacific/Auckland", "2026-11-26T22:00:00Z");
        assert_eq!(
            (week.now, week.windows(1)),
            (11 * 60, vec![[540, 780], [840, 1080]])
        );
        assert_eq!(week.since(week.at(17)), 17);
    }

    #[test]
    fn closed_days_and_unknown_zones() {
        let mut week = week("No/Where", "2026-11-27T08:00:00Z");
        let [day, sunday] = ["2026-11-27", "2026-11-29"].map(|text| Day::parse(text).unwrap());
        assert_eq!(week.closes(day), Some(18 * 60));
        assert_eq!(week.closes(sunday), Some(3 * 1440), "nobody works");
        let due = |from| week.due(day, from);
        assert_eq!(due(Some("15:30")), Some(15 * 60 + 30));
        assert_eq!(due(Some("8")), Some(8 * 60), "before anybody is there");
        assert_eq!(due(Some("19:00")), Some(18 * 60), "after work");
        assert_eq!(due(Some("")), Some(18 * 60), "no time");
        assert_eq!(due(None), Some(18 * 60));
        assert_eq!((week.day(0), week.day(1439)), (Some(day), Some(day)));
        let told = [
            (570, "09:30"),
            (600, "about 10:00"),
            (602, "about 10:00"),
            (603, "about 10:05"),
            (1439, "about 23:55"),
            (1440 + 545, "tomorrow, about 09:05"),
            (3 * 1440 + 5, "Monday, about 00:05"),
            (20 * 1440, "17 December"),
            (-5, "yesterday, about 23:55"),
        ];
        for (minute, words) in told {
            assert_eq!(week.words(minute), words, "{minute}; it is {}", week.now);
        }
        week.hours.closed = vec![[day, day]];
        assert_eq!(week.windows(2).len(), 1);
    }
}
