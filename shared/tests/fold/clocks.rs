//! A wrong clock never moves another device's stamps, and a corrected clock recovers after acknowledgement.

use crate::support::*;
use proptest::prelude::*;
use shared::log::clock::next_ms;
use shared::log::fold::{Entries, PairState};
use shared::log::{EntryId, ReceivedEntry, UnixMs};
use uuid::Uuid;

/// Ten years in milliseconds.
const YEARS: i64 = 10 * 365 * 24 * 3600 * 1000;
/// A recent time in ms since 1970.
const NOW: i64 = 1_790_000_000_000;

fn greatest(entries: &Entries) -> Option<UnixMs> {
    entries.iter().map(ReceivedEntry::effective).max()
}

proptest! {
    #[test]
    fn a_clock_years_ahead_moves_nobody_else(ahead in 0..YEARS, gap in 0i64..100_000) {
        // The faulty device's entry reaches another device only through a server, which dates its arrival.
        let mut faulty = ReceivedEntry::unsent(entry(0, pair(1), NOW + ahead, 0, &detail("colour", "black")));
        faulty.received = Some(UnixMs(NOW));
        let other = Entries::from_iter([faulty]);
        let stamp = next_ms(UnixMs(NOW + gap), greatest(&other));
        prop_assert!(stamp <= UnixMs((NOW + gap).max(NOW + 1)));
    }

    #[test]
    fn a_corrected_clock_recovers_once_the_server_has_acknowledged(ahead in 1..YEARS) {
        let mut own = ReceivedEntry::unsent(entry(0, pair(1), NOW + ahead, 0, &detail("colour", "black")));
        let before = next_ms(UnixMs(NOW + 10), greatest(&Entries::from_iter([own.clone()])));
        prop_assert_eq!(before, UnixMs(NOW + ahead + 1), "unacknowledged, its own later saves stay later");
        own.received = Some(UnixMs(NOW));
        let after = next_ms(UnixMs(NOW + 10), greatest(&Entries::from_iter([own])));
        prop_assert_eq!(after, UnixMs(NOW + 10));
    }

    #[test]
    fn without_over_the_entry_taken_later_wins_over_a_clock_years_ahead(ahead in 1..YEARS) {
        let mut wild = ReceivedEntry::unsent(entry(0, pair(1), NOW + ahead, 0, &detail("colour", "black")));
        wild.received = Some(UnixMs(NOW));
        let mut honest = ReceivedEntry::unsent(entry(1, pair(1), NOW + 500, 1, &detail("colour", "tan")));
        honest.received = Some(UnixMs(NOW + 900));
        let state = PairState::of(&[wild, honest]);
        prop_assert_eq!(state.colour(), Some("tan"));
        prop_assert_eq!(state.details.get("colour").map_or(0, |slot| slot.rivals.len()), 1, "and both are kept");
    }
}

/// RFC 9562, appendix A.6: the example UUIDv7 017F22E2-79B0-7CC3-98C4-DC0C0C07398F, made at 0x017F22E279B0 ms,
/// that is 2022-02-22T19:22:22Z.
#[test]
fn the_published_version_7_uuid_is_an_entry_id() {
    let id: EntryId = "017F22E2-79B0-7CC3-98C4-DC0C0C07398F".parse().expect("a UUID");
    assert_eq!(id.0.get_version_num(), 7);
    let (seconds, nanos) = id.0.get_timestamp().expect("version 7 carries a time").to_unix();
    assert_eq!(seconds * 1000 + u64::from(nanos) / 1_000_000, 1_645_557_742_000);
    let mut made = entry(0, pair(1), 7, 0, &detail("colour", "tan"));
    made.id = id;
    assert_eq!(made.check(), Ok(()));
    made.id = EntryId(Uuid::from_u128(7));
    assert!(made.check().is_err(), "any other UUID is not");
}
