//! Entries and pictures to push.

use server_core::shop::Member;
use sha2::{Digest as _, Sha256};
use shared::log::body::{
    Blob, CardLink, CardPhoto, HandedOver, Opened, Photo, Published, Role, Section, Shows,
};
use shared::log::entry::Stamp;
use shared::log::{
    Body, DeviceId, Entry, EntryId, MadeAt, ReceivedEntry, Subject, SubjectId, SubjectKind, UnixMs,
};
use uuid::Uuid;

/// Writes entries as one device does, each with its own id and number.
#[derive(Debug, Clone)]
pub struct Pen {
    pub device: DeviceId,
    ms: i64,
    seq: u64,
}

impl Pen {
    /// A pen of a device of its own. `number` sets it apart from other pens and determines all ids that it writes.
    pub fn new(number: u32) -> Self {
        Self {
            device: DeviceId(Uuid::from_u128(0xdead << 64 | u128::from(number))),
            ms: 1_700_000_000_000,
            seq: 0,
        }
    }

    pub fn entry(&mut self, kind: SubjectKind, subject: SubjectId, body: &Body) -> Entry {
        self.raw(kind, subject, body.kind().unwrap(), &body.to_text().unwrap())
    }

    /// An entry about any kind of subject, with any kind and body.
    pub fn raw(&mut self, kind: SubjectKind, subject: SubjectId, word: &str, body: &str) -> Entry {
        self.seq += 1;
        self.ms += 1;
        Entry {
            id: EntryId(self.v7(self.seq)),
            subject: Subject::new(kind, subject),
            stamp: Stamp {
                ms: UnixMs(self.ms),
                counter: 0,
            },
            made_at: MadeAt {
                utc: UnixMs(self.ms),
                offset_min: 60,
            },
            device: self.device,
            device_seq: self.seq,
            person: None,
            over: Vec::new(),
            kind: word.to_owned(),
            version: 1,
            body: body.to_owned(),
        }
    }

    /// A new subject id.
    pub fn subject(&mut self) -> SubjectId {
        self.seq += 1;
        SubjectId(self.v7(self.seq))
    }

    fn v7(&self, seq: u64) -> Uuid {
        let mut random = [0; 10];
        random[2..].copy_from_slice(&(seq << 20 | self.device.0.as_u64_pair().1 & 0xf_ffff).to_be_bytes());
        uuid::Builder::from_unix_timestamp_millis(self.ms.unsigned_abs(), &random).into_uuid()
    }

    /// A job that is in the shop, with a photograph and a published section of the care card: nine entries.
    pub fn whole_job(&mut self, picture: &[u8]) -> WholeJob {
        let [customer, pair, ticket, job] = [(); 4].map(|()| self.subject());
        let secret = hex_of(&Sha256::digest(pair.0.as_bytes())[..16]);
        let blob = blob_of(picture, "image/jpeg");
        let photo = Photo::new(blob.clone(), blob.clone(), Shows::DropOff);
        let section = Section {
            title: "Brown derby".to_owned(),
            day: "2026-03-02".to_owned(),
            done: vec!["New top pieces".to_owned()],
            next_check: Some("2026-09-01".to_owned()),
            shop: "Corner bench".to_owned(),
            photos: vec![CardPhoto {
                blob: blob.clone(),
                caption: "Before".to_owned(),
                shows: Some(Shows::DropOff),
            }],
            ..Section::default()
        };
        let opened = |pair, ticket, customer| {
            Body::Opened(Opened {
                pair,
                ticket,
                customer,
            })
        };
        let name = r#"{"field":"name","value":"Ada Example"}"#;
        let entries = vec![
            self.entry(SubjectKind::Customer, customer, &opened(None, None, None)),
            self.raw(SubjectKind::Customer, customer, "detail", name),
            self.entry(SubjectKind::Pair, pair, &opened(None, None, Some(customer))),
            self.entry(
                SubjectKind::Pair,
                pair,
                &Body::CardLink(CardLink {
                    secret: secret.clone(),
                }),
            ),
            self.entry(SubjectKind::Ticket, ticket, &opened(None, None, Some(customer))),
            self.entry(SubjectKind::Job, job, &opened(Some(pair), Some(ticket), None)),
            self.entry(SubjectKind::Job, job, &Body::Photo(photo)),
            self.entry(
                SubjectKind::Job,
                job,
                &Body::Published(Published {
                    pair,
                    section: Box::new(section),
                    seen: Vec::new(),
                }),
            ),
            self.raw(SubjectKind::Job, job, "detail", r#"{"field":"tag","value":"A1"}"#),
        ];
        WholeJob {
            customer,
            pair,
            ticket,
            job,
            secret,
            blob,
            entries,
        }
    }

    pub fn hand_over(&mut self, job: SubjectId) -> Entry {
        self.entry(SubjectKind::Job, job, &Body::HandedOver(HandedOver::default()))
    }
}

/// The entries and ids of [`Pen::whole_job`].
#[derive(Debug, Clone)]
pub struct WholeJob {
    pub customer: SubjectId,
    pub pair: SubjectId,
    pub ticket: SubjectId,
    pub job: SubjectId,
    pub secret: String,
    pub blob: Blob,
    pub entries: Vec<Entry>,
}

/// A device that has joined as a repairer's, for a shop without HTTP.
pub fn repairers(device: DeviceId) -> Member {
    Member {
        device,
        role: Role::Repairer,
    }
}

/// Entries as a device pushes them the first time.
pub fn unsent(entries: &[Entry]) -> Vec<ReceivedEntry> {
    entries.iter().cloned().map(ReceivedEntry::unsent).collect()
}

/// So many bytes: those with which a JPEG begins, then the number again and again.
pub fn picture(number: u32, bytes: usize) -> Vec<u8> {
    let mut picture = b"\xff\xd8\xff\xe0".to_vec();
    picture.extend(number.to_be_bytes().iter().cycle().take(bytes.saturating_sub(4)));
    picture
}

pub fn blob_of(bytes: &[u8], media_type: &str) -> Blob {
    Blob {
        sha256: sha256(bytes),
        media_type: media_type.to_owned(),
        bytes: bytes.len() as u64,
        width: 8,
        height: 8,
    }
}

pub fn sha256(bytes: &[u8]) -> String {
    hex_of(&Sha256::digest(bytes))
}

fn hex_of(bytes: &[u8]) -> String {
    bytes.iter().map(|byte| format!("{byte:02x}")).collect()
}
