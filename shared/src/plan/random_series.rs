//! Pseudo-random numbers that are the same on every machine.

use crate::price::dice::Dice;

/// A series of pseudo-random numbers, in the forms that the searches need.
#[derive(Debug, Clone)]
pub(super) struct RandomSeries(Dice);

impl RandomSeries {
    /// The series that begins with `seed`.
    pub(super) fn of(seed: u64) -> Self {
        Self(Dice::new(seed))
    }

    /// The next 64 bits.
    #[inline]
    pub(super) fn bits(&mut self) -> u64 {
        self.0.bits()
    }

    /// A uniform number, at least 0 and below 1.
    pub(super) fn unit(&mut self) -> f64 {
        self.0.unit()
    }

    /// A uniform whole number below `count`, which must not be 0.
    #[inline]
    pub(super) fn below(&mut self, count: usize) -> usize {
        (((self.bits() >> 32) * count as u64) >> 32) as usize
    }

    /// A uniform whole number from `least` to `most`, both included.
    #[inline]
    pub(super) fn between(&mut self, least: usize, most: usize) -> usize {
        least + self.below(most - least + 1)
    }

    /// A number with nearly an exponential distribution of mean 1: minus the logarithm of a uniform number, with the
    /// binary logarithm taken as linear between powers of two.
    #[inline]
    pub(super) fn exponential(&mut self) -> f64 {
        let bits = self.bits() | 1;
        let zeros = bits.leading_zeros();
        let fraction = (bits << zeros << 1) >> 32;
        (f64::from(zeros) + 1.0 - fraction as f64 / 4_294_967_296.0) * std::f64::consts::LN_2
    }
}
