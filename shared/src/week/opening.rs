//! When the shop opened last, and for how long it was open between two moments.

use super::bench::WeekInput;
use super::hours::Hours;
use super::windows::Week;
use crate::log::entry::UnixMs;
use crate::log::fold::ShopState;

/// Milliseconds of a week.
const WEEK_MS: i64 = 7 * 24 * 3_600_000;

/// The minutes between two moments in which the shop was open.
pub(super) fn open_minutes(given: &WeekInput<'_>, from: UnixMs, until: UnixMs) -> i64 {
    if until <= from {
        return 0;
    }
    let week = Week::new(Hours::of(given.shop), given.zone, given.offset_min, from);
    let until = week.since(until);
    let days = usize::try_from(until / 1440 + 2).unwrap_or(1);
    let windows = week.windows(days);
    let within = windows
        .iter()
        .map(|[start, end]| (until.min(*end) - week.now.max(*start)).max(0));
    within.sum()
}

/// The last opening of the shop: when the first working hours of a day began. If nobody worked for a week, a week ago. The
/// zone and the offset are those of the device, for a shop that has set no zone.
pub(crate) fn opening(shop: &ShopState, now: UnixMs, zone: &str, offset_min: i16) -> UnixMs {
    let week_ago = UnixMs(now.0.saturating_sub(WEEK_MS));
    let back = Week::new(Hours::of(shop), zone, offset_min, week_ago);
    let mut opening = week_ago;
    let mut last_day = None;
    for [start, _] in back.windows(9) {
        let (day, at) = (back.day(start), back.at(start));
        if at > now {
            break;
        }
        if day != last_day {
            (opening, last_day) = (at, day);
        }
    }
    opening
}
