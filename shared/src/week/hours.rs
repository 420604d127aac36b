//! The working hours of the shop, from its settings.

use serde_json::{Value, json};

use crate::log::body::field;
use crate::log::fold::ShopState;
use crate::trade::formulas::day::Day;

/// From and until, in minutes of a day; the second is later, and at most 1440.
pub type OpenHours = [u16; 2];

/// Minutes of a day.
const DAY: u16 = 1440;
/// The greatest number of spans in a day.
const MOST_SPANS: usize = 6;
/// The greatest number of people at the bench.
const MOST_HANDS: u32 = 8;
/// The greatest share of the time that the counter can take, in percent.
const MOST_COUNTER: u32 = 80;
/// How many days ahead the next working day is looked for.
const MOST_AHEAD: i64 = 400;
/// The probabilities offered for keeping a promised day, in percent.
pub const SHARES: [u32; 4] = [70, 80, 90, 95];

/// The hours if the shop has set none. Common practice, no source.
const USUAL: [&[OpenHours]; 7] = [
    &[[540, 780], [840, 1080]],
    &[[540, 780], [840, 1080]],
    &[[540, 780], [840, 1080]],
    &[[540, 780], [840, 1080]],
    &[[540, 780], [840, 1080]],
    &[[540, 780]],
    &[],
];
/// The share of the day that goes to the counter, in percent. Common practice, no source.
const USUAL_COUNTER: u32 = 25;
/// The probability of keeping a promised day if the shop has set none, in percent.
const USUAL_KEPT: u32 = 80;

/// The calendar of a shop.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Hours {
    /// The working hours, Monday first; the spans of a day in order, none overlapping.
    pub week: [Vec<OpenHours>; 7],
    /// For each day of the week, whether the shop has set its hours itself; otherwise they are the usual ones.
    pub own: [bool; 7],
    /// The days on which nobody works, as ranges of first and last day.
    pub closed: Vec<[Day; 2]>,
    /// The share of the hours that the counter takes, in percent.
    pub counter: u32,
    /// How many people work at the bench at one time.
    pub hands: u32,
    /// The time zone, a name of the IANA time zone database; empty if it is not set.
    pub zone: String,
    /// The probability with which a suggested day should be kept, in percent.
    pub kept: u32,
}

impl Hours {
    /// The settings of the shop. A setting that is absent or implausible has its usual value.
    pub fn of(shop: &ShopState) -> Self {
        let whole = |name, least, most, usual| {
            let value = shop.details.value(name).and_then(Value::as_u64);
            let value = value.and_then(|value| u32::try_from(value).ok());
            value
                .filter(|value| (least..=most).contains(value))
                .unwrap_or(usual)
        };
        let own = |day: usize| shop.details.value(&field::hours(day + 1)).and_then(spans);
        Self {
            week: std::array::from_fn(|day| own(day).unwrap_or_else(|| USUAL[day].to_vec())),
            own: std::array::from_fn(|day| own(day).is_some()),
            closed: shop.details.value(field::CLOSED).map(closed).unwrap_or_default(),
            counter: whole(field::COUNTER_SHARE, 0, MOST_COUNTER, USUAL_COUNTER),
            hands: whole(field::HANDS, 1, MOST_HANDS, 1),
            zone: shop.time_zone().unwrap_or_default().to_owned(),
            kept: whole(field::KEPT_SHARE, 50, 99, USUAL_KEPT),
        }
    }

    /// The spans of a day of the week, from 0 for Monday, as people read and type them: `09:00-13:00, 14:00-18:00`.
    pub fn typed(&self, day: usize) -> String {
        let spans = self.week[day].iter();
        let words = spans.map(|[from, until]| format!("{}-{}", clock(*from), clock(*until)));
        words.collect::<Vec<_>>().join(", ")
    }

    /// The value of a field of spans, from typed text: times as `9`, `9:30` or `09:30`, spans with a hyphen or a dash,
    /// separated by a comma or a space. An empty text is a closed day. `None` if it cannot be read, or if spans
    /// overlap.
    pub fn read(typed: &str) -> Option<Value> {
        let plain = typed.replace(['–', '—'], "-").replace([',', ';'], " ");
        let joined = plain.split('-').map(str::trim).collect::<Vec<_>>().join("-");
        let mut all = Vec::new();
        for one in joined.split_whitespace() {
            let (from, until) = one.split_once('-')?;
            all.push(json!([minute(from)?, minute(until)?]));
        }
        let value = Value::Array(all);
        spans(&value).map(|_| value)
    }

    /// Whether nobody works on a day.
    pub fn is_closed(&self, day: Day) -> bool {
        self.closed
            .iter()
            .any(|[first, last]| (first..=last).contains(&&day))
    }

    /// The working hours of a date; none if nobody works on it.
    pub fn on(&self, day: Day) -> &[OpenHours] {
        let spans = self.week.get(day.weekday()).filter(|_| !self.is_closed(day));
        spans.map_or(&[], Vec::as_slice)
    }

    /// Whether nobody works on a date because the shop says so. Hours that are only the usual ones say nothing.
    pub fn is_closed_by_the_shop(&self, day: Day) -> bool {
        let own = self.own.get(day.weekday()).is_some_and(|own| *own);
        self.is_closed(day) || (own && self.on(day).is_empty())
    }

    /// The first date from `day` on, on which somebody works; `None` if there is none within 400 days.
    pub fn next_open(&self, day: Day) -> Option<Day> {
        let mut days = (0..MOST_AHEAD).filter_map(|ahead| Day::counted(day.count() + ahead));
        days.find(|day| !self.on(*day).is_empty())
    }

    /// Whether somebody works on a date at a time `HH:MM`, the ends of the hours included. A text that is no time is
    /// not doubted.
    pub fn is_open_at(&self, day: Day, time: &str) -> bool {
        let Some(time) = minute(time) else { return true };
        let mut spans = self.on(day).iter();
        spans.any(|[from, until]| (*from..=*until).contains(&time))
    }

    /// Attended minutes as minutes of the day, lengthened by the counter's share.
    pub fn stretched(&self, minutes: f64) -> u32 {
        let share = 1.0 - f64::from(self.counter) / 100.0;
        let whole = (minutes / share).ceil();
        if whole.is_finite() {
            (whole.clamp(1.0, 10_000.0)) as u32
        } else {
            1
        }
    }
}

/// Reads the value of a field of spans.
fn spans(value: &Value) -> Option<Vec<OpenHours>> {
    let all = value.as_array()?;
    let mut read: Vec<OpenHours> = Vec::with_capacity(all.len());
    for span in all {
        let [from, until] = span.as_array()?.as_slice() else {
            return None;
        };
        let minute = |value: &Value| u16::try_from(value.as_u64()?).ok();
        let (from, until) = (minute(from)?, minute(until)?);
        let after = read.last().map_or(0, |last| last[1]);
        if from < after || from >= until || until > DAY {
            return None;
        }
        read.push([from, until]);
    }
    (read.len() <= MOST_SPANS).then_some(read)
}

/// Reads the value of the field of closed days; invalid ranges are ignored.
fn closed(value: &Value) -> Vec<[Day; 2]> {
    let all = value.as_array().map_or(&[][..], Vec::as_slice);
    let read = all.iter().filter_map(|span| {
        let [first, last] = span.as_array()?.as_slice() else {
            return None;
        };
        let (first, last) = (Day::parse(first.as_str()?)?, Day::parse(last.as_str()?)?);
        (first <= last).then_some([first, last])
    });
    read.collect()
}

/// A minute of the day as `09:30`.
pub(super) fn clock(minute: u16) -> String {
    format!("{:02}:{:02}", minute / 60, minute % 60)
}

/// The minute of the day of a time as people type it: `9`, `9:30`, `09.30`. `None` for any other text.
pub(super) fn minute(text: &str) -> Option<u16> {
    let (hours, minutes) = text.split_once([':', '.']).unwrap_or((text, "0"));
    let digits = |text: &str| {
        let plain = !text.is_empty() && text.bytes().all(|byte| byte.is_ascii_digit());
        plain.then(|| text.parse::<u16>().ok())?
    };
    let (hours, minutes) = (digits(hours)?, digits(minutes)?);
    let all = hours.checked_mul(60)?.checked_add(minutes)?;
    (minutes < 60 && all <= DAY).then_some(all)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_typed_is_read_and_said_again() {
        let again = |typed: &str| {
            let mut hours = Hours::of(&ShopState::default());
            hours.week[0] = spans(&Hours::read(typed)?)?;
            Some(hours.typed(0))
        };
        assert_eq!(again("9-13 14-18").as_deref(), Some("09:00-13:00, 14:00-18:00"));
        assert_eq!(
            again("9:30 – 12.15, 13-24").as_deref(),
            Some("09:30-12:15, 13:00-24:00")
        );
        assert_eq!(again("").as_deref(), Some(""));
        for wrong in ["9", "13-9", "9-13 12-18", "9-25", "9:60-10", "x-y", "-", "9--10"] {
            assert_eq!(again(wrong), None, "{wrong}");
        }
    }

    #[test]
    fn what_cannot_be_is_as_usual() {
        let mut fields = serde_json::Map::new();
        fields.insert(field::hours(1), json!([[600, 500]]));
        fields.insert(field::hours(2), json!([[600, 700]]));
        fields.insert(field::HANDS.to_owned(), json!(99));
        fields.insert(
            field::CLOSED.to_owned(),
            json!([["2026-12-24", "2027-01-02"], ["soon", "2027-01-02"]]),
        );
        let hours = Hours::of(&ShopState::of_values(&fields));
        assert_eq!(
            (hours.typed(0).as_str(), hours.typed(1).as_str()),
            ("09:00-13:00, 14:00-18:00", "10:00-11:40")
        );
        assert_eq!((hours.hands, hours.closed.len()), (1, 1));
        let day = |text| Day::parse(text).unwrap();
        assert!(hours.is_closed(day("2026-12-24")) && hours.is_closed(day("2027-01-02")));
        assert!(!hours.is_closed(day("2027-01-03")));
    }

    #[test]
    fn a_closed_day_is_known_with_the_next_open_one_and_the_hours_of_a_day() {
        let mut fields = serde_json::Map::new();
        fields.insert(field::hours(1), json!([]));
        fields.insert(field::hours(2), json!([[540, 780], [840, 1080]]));
        fields.insert(field::CLOSED.to_owned(), json!([["2026-12-01", "2026-12-02"]]));
        let hours = Hours::of(&ShopState::of_values(&fields));
        let day = |text| Day::parse(text).unwrap();
        // A Monday that the shop has closed, two dates on which it is closed, and a usual Sunday.
        let days = ["2026-11-30", "2026-12-01", "2026-12-02", "2026-12-06"].map(day);
        assert!(days.iter().all(|day| hours.on(*day).is_empty()));
        let by_the_shop = days.map(|day| hours.is_closed_by_the_shop(day));
        assert_eq!(by_the_shop, [true, true, true, false]);
        let next = days.map(|day| hours.next_open(day).map(|day| day.to_string()));
        let expected = ["2026-12-03", "2026-12-03", "2026-12-03", "2026-12-08"];
        assert_eq!(next, expected.map(|day| Some(day.to_owned())));
        assert_eq!(hours.next_open(day("2026-12-08")), Some(day("2026-12-08")));
        let open = ["08:59", "09:00", "13:00", "13:30", "18:00", "18:01", "", "soon"];
        let open = open.map(|time| hours.is_open_at(day("2026-12-08"), time));
        assert_eq!(open, [false, true, true, false, true, false, true, true]);
        let never = Hours {
            week: std::array::from_fn(|_| Vec::new()),
            ..hours
        };
        assert_eq!(never.next_open(days[0]), None);
    }

    #[test]
    fn the_counters_share_makes_work_longer() {
        let hours = Hours {
            counter: 25,
            ..Hours::of(&ShopState::default())
        };
        assert_eq!(
            (
                hours.stretched(30.0),
                hours.stretched(0.0),
                hours.stretched(f64::NAN)
            ),
            (40, 1, 1)
        );
    }
}
