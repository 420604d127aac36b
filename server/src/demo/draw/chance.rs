//! Scuffs, grain and crumbs: scattered, yet the same in every picture.

/// A short series of numbers that look like chance (a linear congruential generator; constants of Knuth's MMIX,
/// from memory).
#[derive(Debug, Clone)]
pub(super) struct DrawingChance(u64);

impl DrawingChance {
    /// The series that begins with `seed`.
    pub(super) fn of(seed: u64) -> Self {
        Self(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15) | 1)
    }

    /// The next number, from `low` up to `high`.
    pub(super) fn between(&mut self, low: f32, high: f32) -> f32 {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        let part = (self.0 >> 40) as f32 / (1 << 24) as f32;
        low + (high - low) * part
    }
}
