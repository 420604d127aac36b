//! The envelope: the fields that every entry carries, whatever its kind. Its shape never changes.

use serde::{Deserialize, Serialize};
use uuid::Uuid;

use super::open::open_enum;

/// Declares an identifier that is a UUID on the wire and its own type in code.
macro_rules! id {
    ($(#[$meta:meta])* $name:ident) => {
        $(#[$meta])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
        #[serde(transparent)]
        pub struct $name(pub Uuid);

        impl std::fmt::Display for $name {
            fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
                self.0.fmt(f)
            }
        }

        impl std::str::FromStr for $name {
            type Err = uuid::Error;
            fn from_str(text: &str) -> Result<Self, Self::Err> {
                Uuid::parse_str(text).map(Self)
            }
        }
    };
}

id!(
    /// One entry. A UUIDv7 (RFC 9562), so that ids of one device sort roughly by time; never used for order.
    EntryId
);
id!(
    /// A phone, tablet or counter computer. Made by the device itself; a restored copy takes a new one.
    DeviceId
);
id!(
    /// Who was working when the entry was made.
    PersonId
);
id!(
    /// What an entry is about: one customer, pair, ticket, job, material or shop.
    SubjectId
);

/// Milliseconds since 1970-01-01T00:00:00Z.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default, Serialize, Deserialize)]
#[serde(transparent)]
pub struct UnixMs(pub i64);

impl UnixMs {
    /// The greatest time an envelope may carry: 2^53 - 1 ms, the largest whole number every JSON reader keeps.
    pub const MAX: UnixMs = UnixMs((1 << 53) - 1);
}

open_enum!(
    /// The kinds of thing an entry can be about.
    SubjectKind {
        /// Who brings and collects.
        Customer = "customer",
        /// One pair of shoes (or a single, a belt, a bag), known for life.
        Pair = "pair",
        /// One drop-off by one customer.
        Ticket = "ticket",
        /// One pair's stay in the shop on a ticket.
        Job = "job",
        /// The shop itself: its name, people, price list, settings.
        Shop = "shop",
        /// One material of the shop's shelf.
        Material = "material",
    }
);

/// What an entry is about.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Subject {
    /// The kind of thing.
    pub kind: SubjectKind,
    /// Which one.
    pub id: SubjectId,
}

impl Subject {
    /// A subject of this kind and id.
    pub fn new(kind: SubjectKind, id: SubjectId) -> Self {
        Self { kind, id }
    }
}

/// A device's own claim of when an entry was made, good for ordering only together with `received`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Stamp {
    /// Never less than any effective time the device had stored when it stamped; see [`super::clock`].
    pub ms: UnixMs,
    /// The low 32 bits of the device's running number: orders the entries of one save, which share `ms`, and keeps
    /// two stamps of one device apart for ever.
    pub counter: u32,
}

/// The device's wall clock when the entry was made: for people and for minutes worked, never for ordering.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct MadeAt {
    /// UTC, milliseconds.
    pub utc: UnixMs,
    /// The device's offset from UTC then, in minutes east of Greenwich (-1440..=1440).
    pub offset_min: i16,
}

/// One immutable record. The body is the JSON text exactly as its maker wrote it; see [`super::body`].
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Entry {
    /// Which entry. The same id with other content is refused everywhere (erasure excepted).
    pub id: EntryId,
    /// What it is about.
    pub subject: Subject,
    /// The stamp that orders it.
    pub stamp: Stamp,
    /// When it was made, for display.
    pub made_at: MadeAt,
    /// The device that made it.
    pub device: DeviceId,
    /// The device's running number, from 1, with no gaps: how a device knows that it has all of its own.
    pub device_seq: u64,
    /// Who was working, if the device knew.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub person: Option<PersonId>,
    /// The entries this one replaces.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub over: Vec<EntryId>,
    /// What it says; unknown kinds are kept and forwarded.
    pub kind: String,
    /// The version of the shape of the kind's body.
    pub version: u32,
    /// JSON text as received, byte for byte. Empty when an erasure has blanked it.
    pub body: String,
}

/// Why an envelope is refused.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum EnvelopeError {
    /// The id is not a UUIDv7.
    #[error("the entry's id is not a version 7 UUID")]
    Id,
    /// A time lies outside 1970..=2^53 ms, or the offset outside a day.
    #[error("the entry carries a time outside the range that can be kept")]
    Time,
    /// The kind, or that of the subject, is not 1 to 64 characters of `a-z`, `0-9` and `_`.
    #[error("the entry's kind is not a word this log can keep")]
    Kind,
    /// The body is longer than [`Entry::MAX_BODY`].
    #[error("the entry's content is longer than 256 KiB")]
    BodyTooLarge,
    /// More than [`Entry::MAX_OVER`] entries named as replaced.
    #[error("the entry replaces more entries than can be kept")]
    Over,
    /// `device_seq` is 0 or above 2^53.
    #[error("the entry's running number is outside the range that can be kept")]
    DeviceSeq,
}

impl Entry {
    /// The longest body, in bytes of UTF-8.
    pub const MAX_BODY: usize = 256 * 1024;
    /// The most entries one entry may replace.
    pub const MAX_OVER: usize = 1000;

    /// Whether an erasure has blanked this copy.
    pub fn is_blank(&self) -> bool {
        self.body.is_empty()
    }

    /// Whether two copies are the same entry apart from their bodies.
    pub fn same_envelope(&self, other: &Entry) -> bool {
        self.id == other.id
            && self.subject == other.subject
            && self.stamp == other.stamp
            && self.made_at == other.made_at
            && self.device == other.device
            && self.device_seq == other.device_seq
            && self.person == other.person
            && self.over == other.over
            && self.kind == other.kind
            && self.version == other.version
    }

    /// Checks what a server checks: the envelope, not the body.
    ///
    /// # Errors
    /// The first rule the envelope breaks.
    pub fn check(&self) -> Result<(), EnvelopeError> {
        let kept = |t: UnixMs| (UnixMs(0)..=UnixMs::MAX).contains(&t);
        let word = |c: char| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '_';
        if self.id.0.get_version_num() != 7 {
            return Err(EnvelopeError::Id);
        }
        if !kept(self.stamp.ms)
            || !kept(self.made_at.utc)
            || !(-1440..=1440).contains(&self.made_at.offset_min)
        {
            return Err(EnvelopeError::Time);
        }
        let is_word = |text: &str| (1..=64).contains(&text.len()) && text.chars().all(word);
        if !is_word(&self.kind) || !is_word(self.subject.kind.as_str()) {
            return Err(EnvelopeError::Kind);
        }
        if self.body.len() > Self::MAX_BODY {
            return Err(EnvelopeError::BodyTooLarge);
        }
        if self.over.len() > Self::MAX_OVER {
            return Err(EnvelopeError::Over);
        }
        if self.device_seq == 0 || self.device_seq >= 1 << 53 {
            return Err(EnvelopeError::DeviceSeq);
        }
        Ok(())
    }
}
