//! Days as the log writes them and as people read them.

use js_sys::Date;
use shared::log::UnixMs;
use shared::log::fold::JobLine;
pub use shared::week::promised;
use wasm_bindgen::JsValue;

use crate::card::in_words;

/// Today on this device, `YYYY-MM-DD`.
#[must_use]
pub fn today() -> String {
    in_days(0)
}

/// The day so many days after today on this device, `YYYY-MM-DD`.
#[must_use]
pub fn in_days(days: u32) -> String {
    let day = Date::new_0();
    day.set_date(day.get_date() + days);
    day_of(&day)
}

/// The days of the week, Monday first (ISO 8601).
pub const WEEKDAYS: [&str; 7] = [
    "Monday",
    "Tuesday",
    "Wednesday",
    "Thursday",
    "Friday",
    "Saturday",
    "Sunday",
];

/// A day `YYYY-MM-DD` in words with its weekday. A text that is not a day is returned unchanged.
#[must_use]
pub fn day_words(day: &str) -> String {
    // Noon by this device's clock: a date without a time would be read as midnight UTC.
    let date = Date::new(&JsValue::from_str(&[day, "T12:00"].concat()));
    let weekday = if date.get_time().is_nan() {
        None
    } else {
        // JavaScript begins with Sunday.
        WEEKDAYS.get((date.get_day() as usize + 6) % 7)
    };
    match weekday {
        Some(weekday) => [weekday, " ", &in_words(day)].concat(),
        None => day.to_owned(),
    }
}

/// The promise of a job in words: `for 16 November 2026, from 15:00`. `None` if nothing was promised.
#[must_use]
pub fn promised_for(job: &JobLine) -> Option<String> {
    let day = in_words(&job.day);
    (!day.is_empty()).then(|| ["for ", &promised(&day, &job.ready_from)].concat())
}

/// Whether a day `YYYY-MM-DD` is past on this device; false for an empty one.
#[must_use]
pub fn is_past(day: &str) -> bool {
    !day.is_empty() && day < today().as_str()
}

/// A moment as a day and time on this device: `16 November 2026, 10:15`.
#[must_use]
pub fn on_day(at: UnixMs) -> String {
    // The log allows only times below 2^53, so the conversion loses nothing.
    let date = Date::new(&JsValue::from_f64(at.0 as f64));
    format!(
        "{}, {:02}:{:02}",
        in_words(&day_of(&date)),
        date.get_hours(),
        date.get_minutes()
    )
}

fn day_of(date: &Date) -> String {
    format!(
        "{:04}-{:02}-{:02}",
        date.get_full_year(),
        date.get_month() + 1,
        date.get_date()
    )
}
