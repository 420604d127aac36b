//! The rules of the screen lock's PIN: what can be one, and how often it may be guessed. Pure functions;
//! `device/screen/lock.rs` applies them.

use shared::log::UnixMs;

/// How many digits a PIN has, at least and at most.
const DIGITS: std::ops::RangeInclusive<usize> = 4..=8;
/// After so many wrong tries, the next one has to wait…
const TRIES: u32 = 5;
/// …for so long, in ms.
const WAIT_MS: i64 = 60_000;

/// Whether a text can be a PIN: four to eight digits.
#[must_use]
pub fn is_pin(text: &str) -> bool {
    DIGITS.contains(&text.len()) && text.bytes().all(|byte| byte.is_ascii_digit())
}

/// The wrong tries since the PIN was last typed correctly.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct WrongTries {
    count: u32,
    /// When the last one was made.
    last: UnixMs,
}

impl WrongTries {
    /// Reads what [`WrongTries::text`] wrote; none for any other text.
    #[must_use]
    pub fn read(text: &str) -> Self {
        let read = text.split_once(' ').and_then(|(count, last)| {
            Some(Self {
                count: count.parse().ok()?,
                last: UnixMs(last.parse().ok()?),
            })
        });
        read.unwrap_or_default()
    }

    /// The text that is kept on the device.
    #[must_use]
    pub fn text(self) -> String {
        format!("{} {}", self.count, self.last.0)
    }

    /// With another one, made now.
    #[must_use]
    pub fn and_one(self, now: UnixMs) -> Self {
        Self {
            count: self.count.saturating_add(1),
            last: now,
        }
    }

    /// For how many seconds no further try is taken, after every fifth one; `None` if one is taken now.
    ///
    /// Where the clock was set back, nobody waits: it may have been years ahead.
    #[must_use]
    pub fn wait(self, now: UnixMs) -> Option<i64> {
        let passed = now.0.saturating_sub(self.last.0);
        let waits = self.count > 0 && self.count.is_multiple_of(TRIES) && (0..WAIT_MS).contains(&passed);
        waits.then(|| (WAIT_MS - passed + 999) / 1_000)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const NOON: UnixMs = UnixMs(1_770_000_000_000);

    fn after(ms: i64) -> UnixMs {
        UnixMs(NOON.0 + ms)
    }

    fn tries(count: u32) -> WrongTries {
        (0..count).fold(WrongTries::default(), |tries, _| tries.and_one(NOON))
    }

    #[test]
    fn a_pin_has_four_to_eight_digits() {
        for good in ["0000", "12345678"] {
            assert!(is_pin(good), "{good}");
        }
        for bad in ["", "123", "123456789", "12 4", "12a4", "١٢٣٤", "-123"] {
            assert!(!is_pin(bad), "{bad}");
        }
    }

    #[test]
    fn every_fifth_wrong_try_makes_the_next_wait_a_minute() {
        for (count, waits) in [(0, None), (4, None), (5, Some(60)), (6, None), (10, Some(60))] {
            assert_eq!(tries(count).wait(NOON), waits, "after {count}");
        }
        assert_eq!(tries(5).wait(after(59_001)), Some(1));
        assert_eq!(tries(5).wait(after(60_000)), None);
    }

    #[test]
    fn a_clock_that_was_set_back_keeps_nobody_out() {
        assert_eq!(tries(5).wait(after(-1)), None);
    }

    #[test]
    fn what_is_kept_is_read_again() {
        assert_eq!(WrongTries::read(&tries(3).text()), tries(3));
        for other in ["", "5", "five 6", "5 6 7", "-1 0"] {
            assert_eq!(WrongTries::read(other), WrongTries::default(), "{other}");
        }
    }
}
