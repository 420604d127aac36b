//! Keeps entries aside that the role of the device that sent them may not write.

use std::collections::HashMap;

use shared::log::EntryId;
use shared::sync::Problem;
use shared::sync::messages::KeptAside;

use super::refusals::{dropped_by_repairer, id_taken, kept_for_repairer, no_room_aside};
use crate::store::{AsideRow, AsideSize, aside_bytes};

/// The most entries that a shop keeps aside.
const MAX_ENTRIES: u64 = 10_000;
/// The most bytes of JSON that a shop keeps aside.
const MAX_BYTES: u64 = 20_000_000;

/// What is kept aside, as far as a batch concerns it.
#[derive(Debug, Default)]
pub(super) struct Aside {
    /// What is noted of the batch's entries.
    pub(super) rows: HashMap<EntryId, AsideRow>,
    /// How much is kept.
    pub(super) size: AsideSize,
    /// What the batch adds.
    pub(super) new: Vec<KeptAside>,
}

impl Aside {
    /// Whether a repairer has dropped this entry.
    pub(super) fn is_dropped(&self, id: EntryId) -> bool {
        matches!(self.rows.get(&id), Some(AsideRow::Dropped))
    }

    /// Keeps an entry aside, unless it is already, or there is no room. Returns the answer to the device.
    pub(super) fn keep(&mut self, kept: KeptAside) -> Problem {
        let id = kept.entry.entry.id;
        match self.rows.get(&id) {
            Some(AsideRow::Dropped) => dropped_by_repairer(),
            Some(AsideRow::Kept(first)) if first.entry.entry == kept.entry.entry => kept_for_repairer(),
            Some(AsideRow::Kept(_)) => id_taken(),
            None => self.add(id, kept),
        }
    }

    fn add(&mut self, id: EntryId, kept: KeptAside) -> Problem {
        let size = AsideSize {
            entries: self.size.entries + 1,
            bytes: self.size.bytes + aside_bytes(&kept.entry),
        };
        if size.entries > MAX_ENTRIES || size.bytes > MAX_BYTES {
            return no_room_aside();
        }
        self.size = size;
        self.rows.insert(id, AsideRow::Kept(Box::new(kept.clone())));
        self.new.push(kept);
        kept_for_repairer()
    }
}

#[cfg(test)]
mod tests {
    use shared::log::entry::Stamp;
    use shared::log::{DeviceId, Entry, MadeAt, ReceivedEntry, Subject, SubjectId, SubjectKind, UnixMs};
    use uuid::Uuid;

    use super::*;

    fn kept(number: u128, body: &str) -> KeptAside {
        let entry = Entry {
            id: EntryId(Uuid::from_u128(number)),
            subject: Subject::new(SubjectKind::Shop, SubjectId(Uuid::from_u128(1))),
            stamp: Stamp {
                ms: UnixMs(1),
                counter: 1,
            },
            made_at: MadeAt {
                utc: UnixMs(1),
                offset_min: 0,
            },
            device: DeviceId(Uuid::from_u128(2)),
            device_seq: 1,
            person: None,
            over: Vec::new(),
            kind: "detail".to_owned(),
            version: 1,
            body: body.to_owned(),
        };
        KeptAside {
            device: entry.device,
            entry: ReceivedEntry::unsent(entry),
            arrived: UnixMs(3),
        }
    }

    #[test]
    fn there_is_room_for_so_many_entries_and_so_many_bytes() {
        for size in [
            AsideSize {
                entries: MAX_ENTRIES - 1,
                bytes: 0,
            },
            AsideSize {
                entries: 0,
                bytes: MAX_BYTES - aside_bytes(&kept(1, "{}").entry),
            },
        ] {
            let mut aside = Aside {
                size,
                ..Aside::default()
            };
            assert_eq!(aside.keep(kept(1, "{}")), kept_for_repairer());
            for _ in 0..2 {
                assert_eq!(aside.keep(kept(2, "{}")), no_room_aside());
                assert_eq!(
                    aside.keep(kept(1, "{}")),
                    kept_for_repairer(),
                    "it is kept already"
                );
            }
            assert_eq!(aside.new, [kept(1, "{}")]);
        }
    }

    #[test]
    fn the_first_entry_of_an_id_is_kept() {
        let mut aside = Aside::default();
        assert_eq!(aside.keep(kept(1, "{}")), kept_for_repairer());
        assert_eq!(aside.keep(kept(1, "{ }")), id_taken());
        assert_eq!(aside.new, [kept(1, "{}")]);
    }
}
