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
        since_1970(SystemTime::now())
    }

    fn fill(&self, bytes: &mut [u8]) {
        // Without random numbers no token is safe, so this panics rather than give out ones that can be guessed.
        getrandom::fill(bytes).expect("the operating system gives random bytes");
    }
}

/// A time of the machine's clock. One before 1970 counts as 1970, and one that no envelope can carry as the last that
/// can be.
fn since_1970(clock: SystemTime) -> UnixMs {
    let since = clock.duration_since(UNIX_EPOCH).unwrap_or_default();
    UnixMs(
        i64::try_from(since.as_millis())
            .unwrap_or(i64::MAX)
            .min(UnixMs::MAX.0),
    )
}

#[cfg(test)]
mod tests {
    use std::time::Duration;

    use super::*;

    #[test]
    fn a_clock_before_1970_counts_as_1970_and_none_passes_the_last_time() {
        let before = UNIX_EPOCH.checked_sub(Duration::from_secs(86_400)).unwrap();
        assert_eq!(since_1970(before), UnixMs(0));
        let after = UNIX_EPOCH + Duration::from_millis(1);
        assert_eq!(since_1970(after), UnixMs(1));
        let ages = UNIX_EPOCH + Duration::from_millis(1 << 60);
        assert_eq!(since_1970(ages), UnixMs::MAX);
    }
}
