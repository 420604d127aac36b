//! The device's own clock, which may be wrong.

use js_sys::{Array, Date, Intl, Object, Reflect};
use shared::analytics::Here;
use shared::log::UnixMs;

/// The current time of the device's clock.
pub fn now() -> UnixMs {
    #[expect(
        clippy::cast_possible_truncation,
        reason = "whole milliseconds below 2^53; `as` saturates"
    )]
    let ms = Date::now() as i64;
    UnixMs(ms)
}

/// The current offset from UTC, in minutes east of Greenwich.
pub fn offset_min() -> i16 {
    // JavaScript counts minutes west of Greenwich.
    #[expect(
        clippy::cast_possible_truncation,
        reason = "a zone's offset lies within a day; `as` saturates"
    )]
    let east = -Date::new_0().get_timezone_offset() as i16;
    east
}

/// The current time and the time zone of this device, for calculations with days and hours.
pub fn here() -> Here {
    let format = Intl::DateTimeFormat::new(&Array::new(), &Object::new());
    let zone = Reflect::get(&format.resolved_options(), &"timeZone".into());
    Here {
        now: now(),
        zone: zone.ok().and_then(|zone| zone.as_string()).unwrap_or_default(),
        offset_min: offset_min(),
    }
}
