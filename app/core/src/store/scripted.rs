//! A clock that is set by hand and random numbers that repeat: for tests and simulations.

use std::cell::Cell;
use std::rc::Rc;

use shared::log::UnixMs;

use super::surroundings::Surroundings;

/// The surroundings of one device. Clones share the clock and the random numbers.
#[derive(Debug, Clone)]
pub struct Scripted {
    now: Rc<Cell<UnixMs>>,
    seed: Rc<Cell<u64>>,
}

impl Scripted {
    /// A device whose clock is at `now`. Two devices need two seeds.
    pub fn new(seed: u64, now: UnixMs) -> Self {
        Self {
            now: Rc::new(Cell::new(now)),
            seed: Rc::new(Cell::new(seed)),
        }
    }

    /// Sets the clock.
    pub fn set(&self, now: UnixMs) {
        self.now.set(now);
    }

    /// Advances the clock by this many milliseconds.
    pub fn advance(&self, ms: i64) {
        self.now.set(UnixMs(self.now.get().0 + ms));
    }

    /// `SplitMix64` (Steele, Lea and Flood, 2014): every seed passes through all 2^64 values.
    fn next(&self) -> u64 {
        self.seed.set(self.seed.get().wrapping_add(0x9E37_79B9_7F4A_7C15));
        let mut z = self.seed.get();
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }
}

impl Surroundings for Scripted {
    fn now(&self) -> UnixMs {
        self.now.get()
    }

    fn offset_min(&self) -> i16 {
        60
    }

    fn random(&self) -> [u8; 16] {
        let mut bytes = [0; 16];
        bytes[..8].copy_from_slice(&self.next().to_le_bytes());
        bytes[8..].copy_from_slice(&self.next().to_le_bytes());
        bytes
    }
}
