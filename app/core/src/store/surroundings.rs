//! The surroundings of the store: a clock, random numbers, and SHA-256. They are injected, so that a simulation can be
//! replayed exactly.

use std::future::Future;

use shared::log::{SubjectId, UnixMs};
use uuid::{Builder, Uuid};

/// A clock and a source of random bits.
pub trait Surroundings: Clone + 'static {
    /// The device's wall clock, which may be wrong.
    fn now(&self) -> UnixMs;

    /// The device's offset from UTC, in minutes east of Greenwich (-1440..=1440).
    fn offset_min(&self) -> i16;

    /// 128 fresh random bits.
    fn random(&self) -> [u8; 16];

    /// The wall clock, limited to the range that an envelope allows.
    fn wall(&self) -> UnixMs {
        self.now().clamp(UnixMs(0), UnixMs::MAX)
    }

    /// A new UUIDv7 (RFC 9562) for an entry or a subject.
    fn uuid_v7(&self) -> Uuid {
        let ms = u64::try_from(self.wall().0).unwrap_or(0);
        let random = self.random();
        let mut bits = [0; 10];
        bits.copy_from_slice(&random[..10]);
        Builder::from_unix_timestamp_millis(ms, &bits).into_uuid()
    }

    /// A new random version 4 UUID, for a device or a person.
    fn uuid_v4(&self) -> Uuid {
        Builder::from_random_bytes(self.random()).into_uuid()
    }

    /// The id of a subject that is opened now.
    fn new_subject(&self) -> SubjectId {
        SubjectId(self.uuid_v7())
    }
}

/// SHA-256 from the cheapest source: the browser's own, or a library in tests.
pub trait Sha256Digest {
    /// The SHA-256 (FIPS 180-4) of `bytes` as 64 lower-case hex digits, or why it is not available.
    fn sha256(&self, bytes: &[u8]) -> impl Future<Output = Result<String, String>>;
}
