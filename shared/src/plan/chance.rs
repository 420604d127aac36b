//! Numbers that look like chance, the same on every machine.

/// A series of numbers (`SplitMix64`, Steele, Lea and Flood 2014; constants from memory).
#[derive(Debug, Clone)]
pub(super) struct Chance(u64);

impl Chance {
    /// The series that begins with `seed`.
    pub(super) fn of(seed: u64) -> Self {
        Self(seed)
    }

    /// The next 64 bits.
    #[inline]
    pub(super) fn bits(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut bits = self.0;
        bits = (bits ^ (bits >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        bits = (bits ^ (bits >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        bits ^ (bits >> 31)
    }

    /// A number below `count`, which is not 0.
    #[inline]
    pub(super) fn below(&mut self, count: usize) -> usize {
        (((self.bits() >> 32) * count as u64) >> 32) as usize
    }

    /// A number from `least` to `most`.
    #[inline]
    pub(super) fn between(&mut self, least: usize, most: usize) -> usize {
        least + self.below(most - least + 1)
    }

    /// A number that is small often and large seldom: minus the logarithm of one evenly from 0 to 1, the binary
    /// logarithm taken as straight between powers of two.
    #[inline]
    pub(super) fn exponential(&mut self) -> f64 {
        let bits = self.bits() | 1;
        let zeros = bits.leading_zeros();
        let fraction = (bits << zeros << 1) >> 32;
        (f64::from(zeros) + 1.0 - fraction as f64 / 4_294_967_296.0) * std::f64::consts::LN_2
    }
}
