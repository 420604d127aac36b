//! Days as the log writes them and as people read them.

use js_sys::Date;
use shared::log::UnixMs;
use wasm_bindgen::JsValue;

/// Today on this device, `YYYY-MM-DD`.
#[must_use]
pub fn today() -> String {
    let now = Date::new_0();
    format!(
        "{:04}-{:02}-{:02}",
        now.get_full_year(),
        now.get_month() + 1,
        now.get_date()
    )
}

/// A moment as a day and time in the person's own language.
#[must_use]
pub fn on_day(at: UnixMs) -> String {
    // Envelopes keep times below 2^53, so nothing is lost.
    let date = Date::new(&JsValue::from_f64(at.0 as f64));
    String::from(date.to_locale_string("default", &JsValue::UNDEFINED))
}
