//! Decides which taps are the second half of a double tap. A pure function; `device/screen/taps.rs` applies it to every
//! button.
//!
//! Buttons come and go under a finger: "for good?" may be drawn where the button that asked for it was, and the next
//! pair's "Done" where the last one's was. So the rule does not compare buttons, but the place and time of the tap with
//! those of the one before.

/// Two taps less than this apart, in milliseconds, count as one: nobody can have read in between what the first one
/// changed. Operating systems use 300 to 500 ms for double taps.
pub const ONE_TAP_MS: f64 = 500.0;

/// The largest distance between two such taps, horizontally and vertically, in CSS pixels: half the width of a
/// fingertip.
pub const ONE_PLACE_PX: f64 = 32.0;

/// A tap by a finger or a mouse. One by a key is placed at the middle of the element pressed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Tap {
    /// When, in milliseconds since the page was opened: the time of the input, not the later time of its handling.
    pub at_ms: f64,
    /// Distance from the left edge of the viewport, in CSS pixels.
    pub x: f64,
    /// Distance from its upper edge, in CSS pixels.
    pub y: f64,
}

impl Tap {
    /// Whether this is the second half of a double tap that began with `before`, so that it must do nothing.
    ///
    /// `same`: both are on the same element. `written`: something is being written, most likely because of the tap
    /// before. Until that is finished, another tap at that place or on that element is ignored, because the screen does
    /// not show the result yet.
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
        // A notice above the button has moved it.
        assert!(tap(4_000.0, 200.0, 760.0).echoes(&first, true, true));
        assert!(!tap(4_000.0, 200.0, 600.0).echoes(&first, false, true));
    }
}
