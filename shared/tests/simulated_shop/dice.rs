//! Random numbers from a seed.

/// `SplitMix64` (Steele, Lea and Flood, 2014).
#[derive(Debug, Clone)]
pub(crate) struct Dice(u64);

impl Dice {
    pub(crate) fn new(seed: u64) -> Self {
        Self(seed)
    }

    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        mixed ^ (mixed >> 31)
    }

    /// A uniform number between 0 and 1, both excluded.
    pub(crate) fn unit(&mut self) -> f64 {
        ((self.next() >> 11) as f64 + 0.5) / (1u64 << 53) as f64
    }

    pub(crate) fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.unit()
    }

    pub(crate) fn chance(&mut self, of: f64) -> bool {
        self.unit() < of
    }

    /// One of these values, with probabilities by weight.
    pub(crate) fn pick<'a, T>(&mut self, from: &'a [(T, f64)]) -> &'a T {
        let all: f64 = from.iter().map(|(_, weight)| weight).sum();
        let mut left = self.unit() * all;
        for (one, weight) in from {
            left -= weight;
            if left < 0.0 {
                return one;
            }
        }
        &from[from.len() - 1].0
    }

    /// A standard normal number, by the method of Box and Muller.
    pub(crate) fn normal(&mut self) -> f64 {
        let (a, b) = (self.unit(), self.unit());
        (-2.0 * a.ln()).sqrt() * (std::f64::consts::TAU * b).cos()
    }

    /// A lognormal random number, by its median and the standard deviation of its logarithm.
    pub(crate) fn lognormal(&mut self, median: f64, sigma: f64) -> f64 {
        median * (sigma * self.normal()).exp()
    }

    pub(crate) fn weibull(&mut self, (scale, shape): (f64, f64)) -> f64 {
        scale * (-self.unit().ln()).powf(shape.recip())
    }

    /// An exponential random number, by its mean.
    pub(crate) fn exponential(&mut self, mean: f64) -> f64 {
        -mean * self.unit().ln()
    }

    /// A beta-distributed random number with whole parameters, as an order statistic of uniform numbers.
    pub(crate) fn beta(&mut self, alpha: usize, beta: usize) -> f64 {
        let mut all: Vec<f64> = (1..alpha + beta).map(|_| self.unit()).collect();
        all.sort_by(f64::total_cmp);
        all[alpha - 1]
    }
}
