//! Days as the log writes them and as people read them.

use js_sys::Date;
use shared::log::UnixMs;
use shared::log::fold::JobLine;
use shared::trade::formulas::day::Day;
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

/// A day `YYYY-MM-DD` in words with its weekday. A text that is not a day is returned unchanged.
#[must_use]
pub fn day_words(day: &str) -> String {
    let with_weekday = |day: Day| words::time::on_weekday(words::time::weekday(day.weekday()), &day.words());
    Day::parse(day).map_or_else(|| day.to_owned(), with_weekday)
}

/// A day that is near, without its year: `Thursday 26 November`.
#[must_use]
pub fn near_day_words(day: Day) -> String {
    words::time::on_weekday(words::time::weekday(day.weekday()), &day.words_without_year())
}

/// The promise of a job in words: `for 16 November 2026, from 15:00`. `None` if nothing was promised.
#[must_use]
pub fn promised_for(job: &JobLine) -> Option<String> {
    let promise = promised(&job.day?.words(), job.ready_from.as_deref());
    Some(words::time::promised_for(&promise))
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
    let day = in_words(&day_of(&date));
    words::time::day_and_time(&day, date.get_hours(), date.get_minutes())
}

/// A moment as people say it, not later than it is: `about 18:10`, to five minutes; on another day, with that day.
#[must_use]
pub fn about(at: UnixMs) -> String {
    // The log allows only times below 2^53, so the conversion loses nothing.
    let date = Date::new(&JsValue::from_f64(at.0 as f64));
    if day_of(&date) != today() {
        return on_day(at);
    }
    let (hours, minutes) = (date.get_hours(), date.get_minutes());
    words::time::about(&format!("{hours:02}:{:02}", minutes - minutes % 5))
}

fn day_of(date: &Date) -> String {
    format!(
        "{:04}-{:02}-{:02}",
        date.get_full_year(),
        date.get_month() + 1,
        date.get_date()
    )
}
