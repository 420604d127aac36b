//! Colours, and their lighter and darker neighbours.

use std::fmt;

/// An sRGB colour.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub(in crate::demo) struct Colour(u8, u8, u8);

/// White light.
pub(super) const WHITE: Colour = Colour(255, 250, 240);
/// The depth of a shadow; never quite black.
pub(super) const SHADOW: Colour = Colour(24, 15, 10);

impl Colour {
    /// From red, green and blue.
    pub(in crate::demo) const fn of(red: u8, green: u8, blue: u8) -> Self {
        Self(red, green, blue)
    }

    /// `part` of the way (0 to 1) to another colour.
    pub(super) fn mix(self, other: Self, part: f32) -> Self {
        let channel = |a: u8, b: u8| (f32::from(a) + (f32::from(b) - f32::from(a)) * part).round() as u8;
        Self(
            channel(self.0, other.0),
            channel(self.1, other.1),
            channel(self.2, other.2),
        )
    }

    /// As it looks in more light.
    pub(super) fn lighter(self, part: f32) -> Self {
        self.mix(WHITE, part)
    }

    /// As it looks in less light.
    pub(super) fn darker(self, part: f32) -> Self {
        self.mix(SHADOW, part)
    }
}

impl fmt::Display for Colour {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "#{:02x}{:02x}{:02x}", self.0, self.1, self.2)
    }
}
