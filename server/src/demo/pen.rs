//! Writes the entries of the invented shop as a device would.

use sha2::{Digest as _, Sha256};
use shared::log::body::Blob;
use shared::log::entry::Stamp;
use shared::log::{Body, DeviceId, Entry, EntryId, Held, MadeAt, Subject, SubjectId, SubjectKind, UnixMs};
use uuid::Uuid;

use super::{Demo, draw};
use crate::world::World;

/// Minutes between two entries of the invented shop.
const MINUTES: i64 = 4;

/// One device's pen.
pub(super) struct Pen<'w> {
    world: &'w dyn World,
    device: DeviceId,
    now: UnixMs,
    seq: u64,
    demo: Demo,
}

impl<'w> Pen<'w> {
    /// A pen that begins to write `days` ago.
    pub(super) fn new(world: &'w dyn World, days: i64) -> Self {
        let now = UnixMs(world.now().0 - days * 24 * 60 * 60 * 1000);
        Self {
            world,
            device: DeviceId(world.uuid()),
            now,
            seq: 0,
            demo: Demo::default(),
        }
    }

    /// A fresh subject.
    pub(super) fn subject(&mut self) -> SubjectId {
        SubjectId(self.id())
    }

    /// A fresh secret for a card link, which is also the one that is shown.
    pub(super) fn secret(&mut self) -> String {
        self.demo.card = hex::encode(self.world.bytes::<16>());
        self.demo.card.clone()
    }

    /// Writes an entry.
    pub(super) fn write(&mut self, kind: SubjectKind, subject: SubjectId, body: &Body) {
        let (Some(word), Some(text)) = (body.kind(), body.to_text()) else {
            return;
        };
        self.now = UnixMs((self.now.0 + MINUTES * 60 * 1000).min(self.world.now().0));
        self.seq += 1;
        let entry = Entry {
            id: EntryId(self.id()),
            subject: Subject::new(kind, subject),
            stamp: Stamp {
                ms: self.now,
                counter: u32::try_from(self.seq).unwrap_or(u32::MAX),
            },
            made_at: MadeAt {
                utc: self.now,
                offset_min: 0,
            },
            device: self.device,
            device_seq: self.seq,
            person: None,
            over: Vec::new(),
            kind: word.to_owned(),
            version: 1,
            body: text,
        };
        self.demo.entries.push(Held::unsent(entry));
    }

    /// Draws a picture, wide or small.
    pub(super) fn picture(&mut self, look: draw::Look, width: u32) -> Option<Blob> {
        let drawn = draw::shoe(look, width)?;
        let sha256 = hex::encode(Sha256::digest(&drawn.jpeg));
        let bytes = drawn.jpeg.len() as u64;
        self.demo.blobs.push((sha256.clone(), "image/jpeg", drawn.jpeg));
        Some(Blob {
            sha256,
            media_type: "image/jpeg".to_owned(),
            bytes,
            width: drawn.width,
            height: drawn.height,
        })
    }

    /// The day it is for the pen, `days` later, `YYYY-MM-DD`.
    pub(super) fn day(&self, days: i64) -> String {
        let then = chrono::DateTime::from_timestamp_millis(self.now.0 + days * 24 * 60 * 60 * 1000);
        then.unwrap_or_default().format("%Y-%m-%d").to_string()
    }

    /// Everything written.
    pub(super) fn done(self) -> Demo {
        self.demo
    }

    fn id(&self) -> Uuid {
        uuid::Builder::from_unix_timestamp_millis(self.now.0.unsigned_abs(), &self.world.bytes()).into_uuid()
    }
}
