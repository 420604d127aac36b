//! The clock and the random numbers of the server, behind a trait, so that a simulation can replay a whole shop from
//! one seed.

use std::time::{SystemTime, UNIX_EPOCH};

use shared::log::UnixMs;
use uuid::Uuid;

/// A source of time and of random numbers.
pub trait World: Send + Sync {
    /// The present time, ms since 1970.
    fn now(&self) -> UnixMs;

    /// Fills `bytes` with random ones. They cannot be guessed, except in simulations.
    fn fill(&self, bytes: &mut [u8]);
}

impl dyn World + '_ {
    /// A random UUID (version 4).
    pub fn uuid(&self) -> Uuid {
        uuid::Builder::from_random_bytes(self.bytes()).into_uuid()
    }

    /// `N` random bytes.
    pub fn bytes<const N: usize>(&self) -> [u8; N] {
        let mut bytes = [0; N];
        self.fill(&mut bytes);
        bytes
    }
}

/// The machine's clock and the operating system's random numbers.
#[derive(Debug, Clone, Copy, Default)]
pub struct RealWorld;

impl World for RealWorld {
    fn now(&self) -> UnixMs {
        // A clock that is set before 1970 counts as 1970.
        let since = SystemTime::now().duration_since(UNIX_EPOCH).unwrap_or_default();
        UnixMs(
            i64::try_from(since.as_millis())
                .unwrap_or(i64::MAX)
                .min(UnixMs::MAX.0),
        )
    }

    fn fill(&self, bytes: &mut [u8]) {
        // Without random numbers no token is safe, so this panics rather than give out ones that can be guessed.
        getrandom::fill(bytes).expect("the operating system gives random bytes");
    }
}
