//! A clock and random numbers that a test controls.

use std::sync::Arc;
use std::sync::atomic::{AtomicI64, AtomicU64, Ordering};

use server_core::world::World;
use shared::log::UnixMs;

/// A clock that stands still until it is set, and random numbers from a seed. Clones share both.
#[derive(Debug, Clone)]
pub struct Told {
    now: Arc<AtomicI64>,
    random: Arc<AtomicU64>,
}

impl Told {
    pub fn new(seed: u64, now: UnixMs) -> Self {
        Self {
            now: Arc::new(AtomicI64::new(now.0)),
            random: Arc::new(AtomicU64::new(seed)),
        }
    }

    /// Sets the clock, also to an earlier time.
    pub fn set(&self, now: UnixMs) {
        self.now.store(now.0, Ordering::Relaxed);
    }

    pub fn advance(&self, ms: i64) {
        self.now.fetch_add(ms, Ordering::Relaxed);
    }

    /// The next random number (`SplitMix64`, Steele, Lea and Flood 2014).
    pub fn next(&self) -> u64 {
        const STEP: u64 = 0x9e37_79b9_7f4a_7c15;
        let mut z = self.random.fetch_add(STEP, Ordering::Relaxed).wrapping_add(STEP);
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }
}

impl World for Told {
    fn now(&self) -> UnixMs {
        UnixMs(self.now.load(Ordering::Relaxed))
    }

    fn fill(&self, bytes: &mut [u8]) {
        for chunk in bytes.chunks_mut(8) {
            chunk.copy_from_slice(&self.next().to_le_bytes()[..chunk.len()]);
        }
    }
}
