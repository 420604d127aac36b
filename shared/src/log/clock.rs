//! The stamps that a device gives to its entries.

use super::entry::{Stamp, UnixMs};

/// The time that every entry of a save is stamped with: the wall clock, or one past everything stored if the clock
/// is behind.
///
/// `greatest` is the greatest effective time ([`super::received::ReceivedEntry::effective`]) among the entries the device
/// holds. Entries taken from a server count no later than the server's own clock, so one device's wrong clock
/// cannot push another device's stamps ahead. Must be called inside the transaction that writes the entries.
///
/// After the wall clock was corrected, the same millisecond can come twice. The time alone therefore does not tell two
/// saves of one device apart; the stamp's counter, taken from the device's running number, does.
pub fn next_ms(wall: UnixMs, greatest: Option<UnixMs>) -> UnixMs {
    let floor = greatest.map_or(UnixMs(0), |g| UnixMs(g.0.saturating_add(1)));
    wall.max(floor).min(UnixMs::MAX)
}

/// A day, in ms.
const DAY_MS: i64 = 24 * 60 * 60 * 1000;

/// How many whole days a device's clock is ahead of the server's; `None` for less than one, which a person need not be
/// told.
///
/// Nothing is refused for it: an entry that such a device has made is read no later than when the server received it.
/// But its own times and dates are wrong, and until then it comes after what others do.
pub fn days_ahead(device: UnixMs, server: UnixMs) -> Option<i64> {
    let days = device.0.saturating_sub(server.0) / DAY_MS;
    (days > 0).then_some(days)
}

impl Stamp {
    /// The stamp of the entry with this running number (`device_seq`) of its device.
    #[must_use]
    pub fn of(ms: UnixMs, device_seq: u64) -> Stamp {
        // The low half is enough: nobody saves 2^32 entries in a millisecond.
        #[expect(clippy::cast_possible_truncation, reason = "the low half is meant")]
        let counter = device_seq as u32;
        Stamp { ms, counter }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_clock_behind_stamps_just_past_what_is_stored() {
        assert_eq!(next_ms(UnixMs(5), Some(UnixMs(100))), UnixMs(101));
        assert_eq!(next_ms(UnixMs(500), Some(UnixMs(100))), UnixMs(500));
        assert_eq!(next_ms(UnixMs(-3), None), UnixMs(0));
    }

    #[test]
    fn a_clock_is_ahead_from_a_whole_day_on() {
        let server = UnixMs(1_790_000_000_000);
        let ahead = |ms| days_ahead(UnixMs(server.0 + ms), server);
        assert_eq!([ahead(-9 * DAY_MS), ahead(0), ahead(DAY_MS - 1)], [None; 3]);
        assert_eq!([ahead(DAY_MS), ahead(3 * DAY_MS + 1)], [Some(1), Some(3)]);
        assert_eq!(days_ahead(UnixMs(i64::MIN), UnixMs(i64::MAX)), None);
    }
}
