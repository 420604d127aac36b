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
}
