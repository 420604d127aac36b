//! Which taps are the second half of a double tap. Pure: the rule behind every button (`device/screen/taps.rs`).
//!
//! Buttons come and go under a finger: what is asked "for good?" may be drawn where the question was opened, and the next
//! pair's "Done" where the last one's stood. So the rule looks at no button, but at the place and the moment of the tap
//! before.

/// Two taps closer together than this, in milliseconds, are one tap of a hand that trembles: nobody has read in between
/// what the first one changed. Systems take for a double tap what comes within 300 to 500 ms.
pub const ONE_TAP_MS: f64 = 500.0;

/// How far from one another two such taps lie at most, across and down, in CSS pixels: half of what a finger covers.
pub const ONE_PLACE_PX: f64 = 32.0;

/// A tap, by a finger or a mouse; by a key on the middle of what it pressed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Tap {
    /// When, in milliseconds since the page was opened: when the finger moved, not when the page had time for it.
    pub at_ms: f64,
    /// From the left edge of what is seen of the page, in CSS pixels.
    pub x: f64,
    /// From its upper edge.
    pub y: f64,
}

impl Tap {
    /// Whether this is the second half of a double tap that began with `before`, so that it must do nothing.
    ///
    /// While something is written, which most likely the tap before began, another at its place or on the `same` button does
    /// not count however late it comes: what it says there is still what it said before.
    #[must_use]
    pub fn echoes(&self, before: &Tap, same: bool, written: bool) -> bool {
        let near = |one: f64, other: f64| (one - other).abs() <= ONE_PLACE_PX;
        let here = near(self.x, before.x) && near(self.y, before.y);
        let at_once = self.at_ms - before.at_ms < ONE_TAP_MS;
        (here && at_once) || (written && (here || same))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn tap(at_ms: f64, x: f64, y: f64) -> Tap {
        Tap { at_ms, x, y }
    }

    #[test]
    fn a_second_tap_at_once_and_at_the_same_place_does_nothing() {
        let first = tap(1_000.0, 200.0, 700.0);
        assert!(tap(1_000.0, 200.0, 700.0).echoes(&first, false, false));
        assert!(tap(1_499.0, 220.0, 690.0).echoes(&first, false, false));
    }

    #[test]
    fn a_tap_elsewhere_or_after_a_look_counts() {
        let first = tap(1_000.0, 200.0, 700.0);
        assert!(!tap(1_100.0, 200.0, 760.0).echoes(&first, true, false));
        assert!(!tap(1_100.0, 240.0, 700.0).echoes(&first, true, false));
        assert!(!tap(1_500.0, 200.0, 700.0).echoes(&first, true, false));
    }

    #[test]
    fn while_it_is_written_neither_that_place_nor_that_button_takes_a_tap_however_late() {
        let first = tap(1_000.0, 200.0, 700.0);
        assert!(tap(4_000.0, 200.0, 700.0).echoes(&first, false, true));
        // A notice above it has moved it.
        assert!(tap(4_000.0, 200.0, 760.0).echoes(&first, true, true));
        assert!(!tap(4_000.0, 200.0, 600.0).echoes(&first, false, true));
    }
}
