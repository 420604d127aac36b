//! How a picture lies in its frame when it is looked at closely: how far it can be enlarged and moved, and which way a
//! finger that is lifted turns to. Pure functions; `parts/viewer_stage.rs` applies them to fingers, keys and buttons.
//!
//! Lengths are in CSS pixels. Places are counted from the middle of the frame, to the right and downwards.

/// The closest that a photograph can be looked at: at the size that is kept (2048 pixels) one of its pixels is then about
/// one on the screen of a phone.
pub const CLOSEST: f64 = 6.0;

/// By how much one press of "closer" enlarges.
pub const STEP: f64 = 1.5;

/// A finger that moved less than this has tapped and not drawn: about the play of a resting fingertip.
pub const TAP_PX: f64 = 8.0;

/// The least way of a finger that turns to the next photograph.
pub const TURN_PX: f64 = 48.0;

/// A place, from the middle of the frame.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct FramePoint {
    /// To the right.
    pub x: f64,
    /// Downwards.
    pub y: f64,
}

impl FramePoint {
    /// Its distance from another place.
    #[must_use]
    pub fn distance(self, other: FramePoint) -> f64 {
        (self.x - other.x).hypot(self.y - other.y)
    }

    /// The place halfway to another one.
    #[must_use]
    pub fn halfway(self, other: FramePoint) -> FramePoint {
        FramePoint {
            x: f64::midpoint(self.x, other.x),
            y: f64::midpoint(self.y, other.y),
        }
    }
}

/// A width and a height.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Extent {
    /// From left to right.
    pub width: f64,
    /// From top to bottom.
    pub height: f64,
}

impl Extent {
    /// The size at which a picture of this size is seen whole and as large as possible in a frame. A picture whose size
    /// is not known fills the frame.
    #[must_use]
    pub fn fitted(self, frame: Extent) -> Extent {
        if self.width <= 0.0 || self.height <= 0.0 {
            return frame;
        }
        let scale = (frame.width / self.width).min(frame.height / self.height);
        Extent {
            width: self.width * scale,
            height: self.height * scale,
        }
    }

    /// The place in a picture of this size that is seen at `at`, a place in a frame counted from its upper left corner:
    /// from (0, 0) at the picture's upper left to (1, 1) at its lower right, and beyond these outside of the picture.
    #[must_use]
    pub fn share_at(self, frame: Extent, at: FramePoint) -> (f64, f64) {
        let shown = self.fitted(frame);
        let share = |at: f64, frame: f64, shown: f64| {
            if shown > 0.0 {
                (at - (frame - shown) / 2.0) / shown
            } else {
                0.5
            }
        };
        (
            share(at.x, frame.width, shown.width),
            share(at.y, frame.height, shown.height),
        )
    }
}

/// How a picture is seen: enlarged, and moved out of the middle.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CloseLook {
    /// How much it is enlarged; 1 if it is seen whole.
    pub zoom: f64,
    /// Where its middle is.
    pub middle: FramePoint,
}

/// Seen whole.
pub const WHOLE: CloseLook = CloseLook {
    zoom: 1.0,
    middle: FramePoint { x: 0.0, y: 0.0 },
};

impl CloseLook {
    /// Whether it is seen whole.
    #[must_use]
    pub fn is_whole(self) -> bool {
        self.zoom <= 1.0
    }

    /// Enlarged by `factor` (made smaller below 1) so that what is seen at `about` stays there, as far as the limits
    /// let it. `picture` is its size when it is seen whole.
    #[must_use]
    pub fn zoomed(self, factor: f64, about: FramePoint, picture: Extent, frame: Extent) -> Self {
        let zoom = (self.zoom * factor).clamp(1.0, CLOSEST);
        let by = zoom / self.zoom;
        Self {
            zoom,
            middle: FramePoint {
                x: about.x - (about.x - self.middle.x) * by,
                y: about.y - (about.y - self.middle.y) * by,
            },
        }
        .held(picture, frame)
    }

    /// Moved by `way`, as far as the limits let it.
    #[must_use]
    pub fn moved(self, way: FramePoint, picture: Extent, frame: Extent) -> Self {
        Self {
            middle: FramePoint {
                x: self.middle.x + way.x,
                y: self.middle.y + way.y,
            },
            ..self
        }
        .held(picture, frame)
    }

    /// Within the limits: no edge of the picture comes farther inwards than the edge of the frame, and along a side on
    /// which all of it is seen it lies in the middle.
    fn held(self, picture: Extent, frame: Extent) -> Self {
        let most = |picture: f64, frame: f64| ((picture * self.zoom - frame) / 2.0).max(0.0);
        let (right, down) = (
            most(picture.width, frame.width),
            most(picture.height, frame.height),
        );
        Self {
            middle: FramePoint {
                x: self.middle.x.clamp(-right, right),
                y: self.middle.y.clamp(-down, down),
            },
            ..self
        }
    }
}

/// The way to another photograph of a list.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Onward {
    /// To the one before.
    Previous,
    /// To the one after.
    Next,
}

impl Onward {
    /// What a finger asks for that moved by `way` over a picture that is seen whole and was then lifted: one to the left
    /// draws the next photograph in. `None` if it moved too little, or rather up or down.
    #[must_use]
    pub fn swiped(way: FramePoint) -> Option<Self> {
        let sideways = way.x.abs() >= TURN_PX && way.x.abs() > 2.0 * way.y.abs();
        let to = if way.x < 0.0 { Self::Next } else { Self::Previous };
        sideways.then_some(to)
    }

    /// The place in a list of `length` that is beside `at`; `None` past its ends.
    #[must_use]
    pub fn beside(self, at: usize, length: usize) -> Option<usize> {
        let to = match self {
            Self::Previous => at.checked_sub(1)?,
            Self::Next => at.checked_add(1)?,
        };
        (to < length).then_some(to)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const FRAME: Extent = Extent {
        width: 400.0,
        height: 600.0,
    };
    /// A picture of 3:2, seen whole in that frame.
    const PICTURE: Extent = Extent {
        width: 400.0,
        height: 266.0,
    };
    const CENTER: FramePoint = FramePoint { x: 0.0, y: 0.0 };

    fn close(zoom: f64, x: f64, y: f64) -> CloseLook {
        CloseLook {
            zoom,
            middle: FramePoint { x, y },
        }
    }

    #[test]
    fn a_picture_is_seen_whole_and_as_large_as_possible() {
        let wide = Extent {
            width: 2048.0,
            height: 1536.0,
        };
        let high = Extent {
            width: 1536.0,
            height: 2048.0,
        };
        assert_eq!(
            wide.fitted(FRAME),
            Extent {
                width: 400.0,
                height: 300.0
            }
        );
        let low = Extent {
            width: 600.0,
            height: 200.0,
        };
        assert_eq!(
            high.fitted(low),
            Extent {
                width: 150.0,
                height: 200.0
            }
        );
        assert_eq!(Extent::default().fitted(FRAME), FRAME);
    }

    #[test]
    fn a_tap_beside_the_picture_is_told_from_one_on_it() {
        let picture = Extent {
            width: 4.0,
            height: 3.0,
        };
        // 300 high in the middle of 600: from 150 to 450.
        assert_eq!(
            picture.share_at(FRAME, FramePoint { x: 200.0, y: 300.0 }),
            (0.5, 0.5)
        );
        assert_eq!(
            picture.share_at(FRAME, FramePoint { x: 0.0, y: 150.0 }),
            (0.0, 0.0)
        );
        assert_eq!(
            picture.share_at(FRAME, FramePoint { x: 400.0, y: 600.0 }),
            (1.0, 1.5)
        );
        assert_eq!(
            picture.share_at(Extent::default(), FramePoint::default()),
            (0.5, 0.5),
            "without a frame"
        );
    }

    #[test]
    fn it_is_never_smaller_than_whole_nor_closer_than_the_limit() {
        assert_eq!(WHOLE.zoomed(0.2, CENTER, PICTURE, FRAME), WHOLE);
        let mut look = WHOLE;
        for _ in 0..20 {
            look = look.zoomed(STEP, CENTER, PICTURE, FRAME);
        }
        assert_eq!(look, close(CLOSEST, 0.0, 0.0));
        for _ in 0..20 {
            look = look.zoomed(1.0 / STEP, FramePoint { x: 90.0, y: -40.0 }, PICTURE, FRAME);
        }
        assert_eq!(look, WHOLE, "and comes back to the middle");
    }

    #[test]
    fn what_is_under_the_fingers_stays_there() {
        let about = FramePoint { x: 100.0, y: 50.0 };
        let before = close(3.0, 0.0, 0.0);
        let after = before.zoomed(1.5, about, PICTURE, FRAME);
        // The same place of the picture, before and after.
        let seen = |look: CloseLook| (about.x - look.middle.x) / look.zoom;
        assert!((seen(after) - seen(before)).abs() < 1e-9);
        assert!(after.zoom > before.zoom);
    }

    #[test]
    fn it_is_moved_until_its_edge_meets_that_of_the_frame() {
        let far = FramePoint { x: 9e3, y: 9e3 };
        assert_eq!(WHOLE.moved(far, PICTURE, FRAME), WHOLE);
        // Twice as large it is 800 wide and 532 high: wider than the frame, not higher.
        assert_eq!(
            close(2.0, 0.0, 0.0).moved(far, PICTURE, FRAME),
            close(2.0, 200.0, 0.0)
        );
        let back = FramePoint { x: -9e3, y: -9e3 };
        assert_eq!(
            close(3.0, 0.0, 0.0).moved(back, PICTURE, FRAME),
            close(3.0, -400.0, -99.0)
        );
    }

    #[test]
    fn a_swipe_turns_and_a_slip_does_not() {
        let swiped = |x, y| Onward::swiped(FramePoint { x, y });
        assert_eq!(swiped(-120.0, 10.0), Some(Onward::Next));
        assert_eq!(swiped(120.0, -10.0), Some(Onward::Previous));
        assert_eq!(swiped(-TURN_PX + 1.0, 0.0), None);
        assert_eq!(swiped(-120.0, 80.0), None);
    }

    #[test]
    fn there_is_nothing_past_the_ends_of_a_list() {
        assert_eq!(Onward::Next.beside(0, 2), Some(1));
        assert_eq!(Onward::Next.beside(1, 2), None);
        assert_eq!(Onward::Previous.beside(0, 2), None);
        assert_eq!(Onward::Previous.beside(1, 2), Some(0));
        assert_eq!(Onward::Next.beside(0, 0), None);
    }
}
