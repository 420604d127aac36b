//! Writes entries as a device would: each with its time, and numbered in the order of time.

use std::cell::Cell;

use shared::log::entry::Stamp;
use shared::log::fold::ShopState;
use shared::log::{
    Body, DeviceId, Entry, EntryId, MadeAt, PersonId, ReceivedEntry, Subject, SubjectId, SubjectKind, UnixMs,
};
use shared::trade::formulas::day::Day;
use shared::week::Hours;
use uuid::Uuid;

use server_core::world::World;

const DAY_MS: i64 = 24 * 60 * 60 * 1000;

/// Collects the entries of one device.
pub(super) struct Pen<'w> {
    world: &'w dyn World,
    /// When the demo shop is made. All times of the stories are counted back from here.
    pub(super) now: UnixMs,
    device: DeviceId,
    written: Vec<Entry>,
    ids: Cell<u16>,
}

impl<'w> Pen<'w> {
    /// A pen of a new device, without entries.
    pub(super) fn new(world: &'w dyn World) -> Self {
        Self {
            world,
            now: world.now(),
            device: DeviceId(world.uuid()),
            written: Vec::new(),
            ids: Cell::new(0),
        }
    }

    /// A new subject id made at this time. A pair's jobs are sorted by it.
    pub(super) fn subject(&self, at: UnixMs) -> SubjectId {
        SubjectId(self.id(at))
    }

    /// A new secret for a card link: 32 hex digits.
    pub(super) fn secret(&self) -> String {
        hex::encode(self.world.bytes::<16>())
    }

    /// The id of a new person.
    pub(super) fn person(&self) -> PersonId {
        PersonId(self.world.uuid())
    }

    /// Writes an entry made at this time, or now if that is in the future. Returns its id.
    pub(super) fn write(
        &mut self,
        at: UnixMs,
        by: PersonId,
        (kind, subject): (SubjectKind, SubjectId),
        body: &Body,
    ) -> EntryId {
        let utc = at.min(self.now);
        let id = EntryId(self.id(utc));
        if let (Some(word), Some(text)) = (body.kind(), body.to_text()) {
            self.written.push(Entry {
                id,
                subject: Subject::new(kind, subject),
                stamp: Stamp::of(utc, 0),
                made_at: MadeAt { utc, offset_min: 0 },
                device: self.device,
                device_seq: 0,
                person: Some(by),
                over: Vec::new(),
                kind: word.to_owned(),
                version: 1,
                body: text,
            });
        }
        id
    }

    /// The date `days` after today (UTC), `YYYY-MM-DD`. If the shop is closed on it, the next date on which it is open.
    pub(super) fn working_day(&self, days: i64) -> String {
        let week = Hours::of(&ShopState::default()).week;
        let works = |later: &i64| {
            let spans = day_of(self.now, *later).and_then(|day| week.get(day.weekday()));
            spans.is_some_and(|spans| !spans.is_empty())
        };
        let day = (days..days + 7).find(works).unwrap_or(days);
        self.day_after(self.now, day)
    }

    /// The date `days` after another time, `YYYY-MM-DD`.
    pub(super) fn day_after(&self, at: UnixMs, days: i64) -> String {
        day_of(at, days).map_or_else(String::new, |day| day.to_string())
    }

    /// All entries in the order of time, numbered as the device would have numbered them.
    pub(super) fn done(self) -> Vec<ReceivedEntry> {
        let mut entries = self.written;
        entries.sort_by_key(|entry| entry.stamp.ms);
        let numbered = entries.into_iter().zip(1..).map(|(mut entry, seq)| {
            entry.device_seq = seq;
            entry.stamp = Stamp::of(entry.stamp.ms, seq);
            ReceivedEntry::unsent(entry)
        });
        numbered.collect()
    }

    /// A UUIDv7 of this time. Ids of the same millisecond ascend in the order in which they are made, so that jobs keep
    /// their order.
    fn id(&self, at: UnixMs) -> Uuid {
        let mut random: [u8; 10] = self.world.bytes();
        self.ids.set(self.ids.get().wrapping_add(1));
        // The counter goes into the twelve bits after the version.
        random[..2].copy_from_slice(&(self.ids.get() & 0x0fff).to_be_bytes());
        uuid::Builder::from_unix_timestamp_millis(at.0.unsigned_abs(), &random).into_uuid()
    }
}

/// The day of a time (UTC), or so many days later; `None` after the year 9999.
fn day_of(at: UnixMs, later: i64) -> Option<Day> {
    Day::counted(at.0.div_euclid(DAY_MS) + later)
}
