//! Pseudo-random numbers from a given seed, the same on every machine.

/// `SplitMix64` (Steele, Lea and Flood, 2014): a counter and a mixing function. It needs a few bytes of code where a
/// library needs kilobytes.
#[derive(Debug, Clone)]
pub(crate) struct Dice {
    state: u64,
    /// The second of the two normal numbers that are drawn together.
    spare: Option<f64>,
}

impl Dice {
    /// Begins the sequence of a seed.
    pub(crate) fn new(seed: u64) -> Self {
        Self {
            state: seed,
            spare: None,
        }
    }

    /// The next 64 bits.
    #[inline]
    pub(crate) fn bits(&mut self) -> u64 {
        self.state = self.state.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut mixed = self.state;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        mixed ^ (mixed >> 31)
    }

    /// A uniform number of 53 bits, at least 0 and below 1.
    pub(crate) fn unit(&mut self) -> f64 {
        (self.bits() >> 11) as f64 / (1u64 << 53) as f64
    }

    /// A standard normal number, by Marsaglia's polar method. Which points are accepted is decided without a logarithm,
    /// so the sequence is the same on every machine, up to the last bit of a value.
    pub(crate) fn normal(&mut self) -> f64 {
        if let Some(spare) = self.spare.take() {
            return spare;
        }
        loop {
            let (x, y) = (2.0 * self.unit() - 1.0, 2.0 * self.unit() - 1.0);
            let square = x * x + y * y;
            if square > 0.0 && square < 1.0 {
                let stretch = (-2.0 * square.ln() / square).sqrt();
                self.spare = Some(y * stretch);
                return x * stretch;
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The first numbers of seed 1234567, as published with the generator's reference code (from memory).
    #[test]
    fn the_reference_sequence() {
        let mut dice = Dice::new(1_234_567);
        let first: Vec<u64> = (0..3).map(|_| dice.bits()).collect();
        assert_eq!(
            first,
            [
                6_457_827_717_110_365_317,
                3_203_168_211_198_807_973,
                9_817_491_932_198_370_423
            ]
        );
    }

    /// Moments of 200,000 numbers, each within five standard errors: √(1/n), √(2/n), √(15/n), √(96/n).
    #[test]
    fn normal_numbers_are_normal() {
        let mut dice = Dice::new(7);
        let many = 200_000;
        let mut sums = [0.0; 4];
        for _ in 0..many {
            let z = dice.normal();
            for (power, sum) in (1..).zip(&mut sums) {
                *sum += z.powi(power);
            }
        }
        let n = f64::from(many);
        for ((sum, expected), variance) in sums
            .into_iter()
            .zip([0.0, 1.0, 0.0, 3.0])
            .zip([1.0, 2.0, 15.0, 96.0])
        {
            assert!(
                (sum / n - expected).abs() < 5.0 * f64::sqrt(variance / n),
                "{} {expected}",
                sum / n
            );
        }
    }
}
