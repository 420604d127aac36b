//! Which entries the server has asked which device for. What a helper's device sends for others counts only if it was asked
//! for it. This is in memory: after a restart devices ask again what the server lacks.

use std::collections::{HashMap, HashSet};
use std::sync::{Mutex, MutexGuard, PoisonError};

use shared::log::{DeviceId, EntryId, UnixMs};

/// How long after its last question a device may still send what it was asked for, in ms.
const REMEMBERED_MS: u64 = 60 * 60 * 1000;
/// The most entries noted for one device.
const MOST: usize = 100_000;

/// The entries that devices were asked for.
#[derive(Debug, Default)]
pub(super) struct AskedEntries(Mutex<HashMap<DeviceId, AskedOfOne>>);

#[derive(Debug, Default)]
struct AskedOfOne {
    entries: HashSet<EntryId>,
    last: UnixMs,
}

impl AskedEntries {
    /// Notes that a device is asked for these entries. If there were more than [`MOST`], all former ones are forgotten: the
    /// device compares again what it then sends in vain.
    pub(super) fn note(&self, device: DeviceId, entries: &[EntryId], now: UnixMs) {
        let mut all = self.lock(now);
        if entries.is_empty() {
            return;
        }
        let own = all.entry(device).or_default();
        own.last = now;
        if own.entries.len() + entries.len() > MOST {
            own.entries.clear();
        }
        own.entries.extend(entries.iter().take(MOST));
    }

    /// Those of these entries that the device was asked for.
    pub(super) fn of(&self, device: DeviceId, entries: &[EntryId], now: UnixMs) -> HashSet<EntryId> {
        let all = self.lock(now);
        let own = all.get(&device);
        let asked = |id: &&EntryId| own.is_some_and(|own| own.entries.contains(*id));
        entries.iter().filter(asked).copied().collect()
    }

    /// What was not asked too long ago. A clock that was set back or jumped forward counts as time that has passed.
    fn lock(&self, now: UnixMs) -> MutexGuard<'_, HashMap<DeviceId, AskedOfOne>> {
        let mut all = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        all.retain(|_, own| own.last.0.abs_diff(now.0) < REMEMBERED_MS);
        all
    }
}

#[cfg(test)]
mod tests {
    use uuid::Uuid;

    use super::*;

    fn ids(numbers: std::ops::Range<u128>) -> Vec<EntryId> {
        numbers.map(|number| EntryId(Uuid::from_u128(number))).collect()
    }

    #[test]
    fn what_a_device_was_asked_for_is_known_for_an_hour_after_the_last_question() {
        let [one, two] = [1, 2].map(|number| DeviceId(Uuid::from_u128(number)));
        let hour = i64::try_from(REMEMBERED_MS).unwrap();
        let start = 10 * hour;
        let asked = AskedEntries::default();
        asked.note(one, &ids(0..3), UnixMs(start));
        asked.note(one, &ids(3..5), UnixMs(start + hour - 1));
        let of = |device, at| asked.of(device, &ids(2..9), UnixMs(at)).len();
        assert_eq!((of(one, start), of(two, start)), (3, 0));
        assert_eq!(of(one, start + 2 * hour - 2), 3);
        assert_eq!(of(one, start + 2 * hour - 1), 0);
        assert_eq!(of(one, start), 0, "forgotten for good");
    }

    #[test]
    fn a_device_that_asks_for_ever_does_not_fill_the_memory() {
        let device = DeviceId(Uuid::from_u128(1));
        let asked = AskedEntries::default();
        let most = u128::try_from(MOST).unwrap();
        asked.note(device, &ids(0..most - 1), UnixMs(0));
        let known = |from: u128, to: u128| asked.of(device, &ids(from..to), UnixMs(0)).len();
        assert_eq!(known(0, most), MOST - 1);
        asked.note(device, &ids(most..most + 5), UnixMs(0));
        assert_eq!(
            (known(0, most), known(most, most + 5)),
            (0, 5),
            "the last question counts"
        );
    }
}
