//! Days as the log writes them and as people read them.

use js_sys::Date;
use shared::log::UnixMs;
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

/// A day `YYYY-MM-DD` with its weekday, in the person's own language; as it stands if it is no day.
#[must_use]
pub fn day_words(day: &str) -> String {
    // Noon on this device: a bare day would be read as midnight in Greenwich.
    let mut noon = day.to_owned();
    noon.push_str("T12:00");
    let date = Date::new(&JsValue::from_str(&noon));
    if date.get_time().is_nan() {
        return day.to_owned();
    }
    let options = js_sys::Object::new();
    for (name, form) in [("weekday", "long"), ("day", "numeric"), ("month", "long")] {
        // Setting a property of a fresh plain object cannot fail.
        let _ = js_sys::Reflect::set(&options, &name.into(), &form.into());
    }
    String::from(date.to_locale_date_string("default", &options))
}

/// A moment as a day and time on this device: `16 November 2026, 10:15`.
#[must_use]
pub fn on_day(at: UnixMs) -> String {
    // Envelopes keep times below 2^53, so nothing is lost.
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
