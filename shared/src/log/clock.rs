//! How a device stamps what it writes.

use super::entry::{Stamp, UnixMs};

/// The stamp for the first entry of a save: the wall clock, or one past everything stored if the clock is behind.
///
/// `greatest` is the greatest effective time ([`super::held::Held::effective`]) among the entries the device
/// holds. Entries taken from a server count no later than the server's own clock, so one device's wrong clock
/// cannot push another device's stamps ahead. Must be called inside the transaction that writes the entries,
/// or two tabs could take the same stamp.
pub fn next_stamp(wall: UnixMs, greatest: Option<UnixMs>) -> Stamp {
    let floor = greatest.map_or(UnixMs(0), |g| UnixMs(g.0.saturating_add(1)));
    Stamp {
        ms: wall.max(floor).min(UnixMs::MAX),
        counter: 0,
    }
}

impl Stamp {
    /// The stamp for the next entry of the same save.
    #[must_use]
    pub fn following(self) -> Stamp {
        Stamp {
            counter: self.counter + 1,
            ..self
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_clock_behind_stamps_just_past_what_is_stored() {
        assert_eq!(next_stamp(UnixMs(5), Some(UnixMs(100))).ms, UnixMs(101));
        assert_eq!(next_stamp(UnixMs(500), Some(UnixMs(100))).ms, UnixMs(500));
        assert_eq!(next_stamp(UnixMs(-3), None).ms, UnixMs(0));
    }
}
