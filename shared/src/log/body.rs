//! The kinds of entry this version understands. Every other kind is kept, forwarded and shown as made by a
//! newer app.
//!
//! A body is JSON text. It is never rewritten: reading gives a typed view, the text stays as it came. Unknown
//! fields are ignored in the view and so survive in the text.

use serde::{Deserialize, Serialize};
use serde_json::Value;

use super::entry::{Entry, EntryId, SubjectId};
use super::open::open_enum;

/// A stored photograph or voice note, by content.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Blob {
    /// SHA-256 of the bytes (FIPS 180-4), 64 lower-case hex digits.
    pub sha256: String,
    /// For example `image/jpeg`.
    pub media_type: String,
    /// Length in bytes.
    pub bytes: u64,
    /// Pixels; 0 for sound.
    #[serde(default)]
    pub width: u32,
    /// Pixels; 0 for sound.
    #[serde(default)]
    pub height: u32,
}

open_enum!(
    /// Which shoe of the pair.
    Side {
        /// The left shoe.
        Left = "left",
        /// The right shoe.
        Right = "right",
        /// Both shoes.
        Both = "both",
    }
);

open_enum!(
    /// What a photograph shows.
    Shows {
        /// The pair as it was brought: its face everywhere in the app.
        DropOff = "drop_off",
        /// Work being done.
        Step = "step",
        /// Damage, at the counter or inside.
        Damage = "damage",
        /// The finished pair.
        Finished = "finished",
    }
);

/// Brings a subject to life and says what it hangs on.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Opened {
    /// The pair of a job.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pair: Option<SubjectId>,
    /// The ticket of a job.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ticket: Option<SubjectId>,
    /// The customer of a ticket or a pair.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub customer: Option<SubjectId>,
}

/// Sets one plain field of its subject; the fields in use are named in [`field`].
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Detail {
    /// Which field.
    pub field: String,
    /// Its value: text, a number, or whatever a newer app puts there.
    pub value: Value,
}

/// The plain fields this version shows.
pub mod field {
    /// Customer or shop: the name.
    pub const NAME: &str = "name";
    /// Customer or shop: a telephone number.
    pub const PHONE: &str = "phone";
    /// Pair: maker's name on the sock or sole.
    pub const MAKER: &str = "maker";
    /// Pair: colour in the repairer's words.
    pub const COLOUR: &str = "colour";
    /// Pair: what it is (derby, walking boot, belt).
    pub const LOOK: &str = "look";
    /// Job: the number hung on the pair.
    pub const TAG: &str = "tag";
    /// Job: where it stands when ready.
    pub const SHELF: &str = "shelf";
    /// Ticket: the day promised, `YYYY-MM-DD`.
    pub const DAY: &str = "day";
    /// Shop: terms of guarantee printed on the card.
    pub const TERMS: &str = "terms";
}

/// One line of agreed work on a job. A changed line names the old one in `over`; an extra is a new line.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Agreed {
    /// The operation, a word of the trade list or the shop's own.
    pub operation: String,
    /// Which shoe.
    pub side: Side,
    /// Price in the currency's minor unit (cents); 0 for no charge.
    pub price_minor: i64,
}

/// A photograph of a job.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Photo {
    /// The picture, 2048 px on the long edge at most.
    pub full: Blob,
    /// A small copy for lists.
    pub thumb: Blob,
    /// What it shows.
    pub shows: Shows,
    /// The operation it belongs to, for [`Shows::Step`].
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub operation: Option<String>,
}

/// Something done on a job.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Step {
    /// The operation.
    pub operation: String,
    /// Which shoe.
    pub side: Side,
    /// A word about it, for colleagues and the next time.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub note: String,
    /// Minutes of attended work, if noted.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub minutes: Option<u32>,
}

/// A remark on any subject, spoken or written.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Note {
    /// What was written; may be empty beside a voice note.
    #[serde(default)]
    pub text: String,
    /// What was said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub voice: Option<Blob>,
}

/// The secret part of a pair's card link, made once with the pair.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct CardLink {
    /// 128 random bits as 32 lower-case hex digits.
    pub secret: String,
}

/// One section of the care card as it was shown to the customer: a snapshot, never recomputed.
///
/// Every version ever written stays readable: fields are only added, with defaults.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Section {
    /// What the pair is, in words.
    #[serde(default)]
    pub title: String,
    /// The day of hand-over, `YYYY-MM-DD`.
    #[serde(default)]
    pub day: String,
    /// What was done, in plain words, one line each.
    #[serde(default)]
    pub done: Vec<String>,
    /// What was found inside and what was decided.
    #[serde(default)]
    pub found: Vec<String>,
    /// Extras at no charge.
    #[serde(default)]
    pub gifts: Vec<String>,
    /// Advice, one line each.
    #[serde(default)]
    pub advice: Vec<String>,
    /// Hours to wait before wearing.
    #[serde(default)]
    pub wait_hours: Option<u32>,
    /// The day of the next check, `YYYY-MM-DD`.
    #[serde(default)]
    pub next_check: Option<String>,
    /// The guarantee terms that apply to this work.
    #[serde(default)]
    pub terms: String,
    /// The price in words, only if the repairer ticked it.
    #[serde(default)]
    pub price: Option<String>,
    /// The shop's name and how to reach it.
    #[serde(default)]
    pub shop: String,
    /// Photographs chosen for the card, before first.
    #[serde(default)]
    pub photos: Vec<CardPhoto>,
}

/// A photograph chosen for the card.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct CardPhoto {
    /// The picture.
    pub blob: Blob,
    /// What it shows, for the caption and for those who cannot see it.
    pub caption: String,
}

/// Publishes a section of the pair's card. About a job.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Published {
    /// The pair whose card it joins.
    pub pair: SubjectId,
    /// What the customer sees.
    pub section: Section,
    /// The withdrawals its maker had seen. One not listed here wins over this section.
    #[serde(default)]
    pub seen: Vec<EntryId>,
}

/// Names another entry of the same subject as mistaken.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Retracted {
    /// The entry hidden by this one.
    pub entry: EntryId,
}

/// Says that this subject and another of its kind are one thing.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct SameAs {
    /// The other subject.
    pub other: SubjectId,
}

/// Erases: without `blob`, everything on the entry's own subject; with it, those bytes wherever they are named.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Erased {
    /// SHA-256 of a photograph or voice note to destroy.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub blob: Option<String>,
}

/// Empty bodies: the kind says it all.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Plain {}

macro_rules! kinds {
    ($($(#[$meta:meta])* $variant:ident($body:ty) = $kind:literal),+ $(,)?) => {
        /// The typed view of an entry's body.
        #[derive(Debug, Clone, PartialEq)]
        pub enum Body {
            $($(#[$meta])* $variant($body),)+
            /// A kind or shape this version cannot read, or a blanked body. Shown as made by a newer app.
            Unknown,
        }

        impl Body {
            /// Reads an entry's body. Never fails: what cannot be read is [`Body::Unknown`].
            pub fn of(entry: &Entry) -> Body {
                match entry.kind.as_str() {
                    $($kind => serde_json::from_str(&entry.body).map_or(Body::Unknown, Body::$variant),)+
                    _ => Body::Unknown,
                }
            }

            /// The kind as it is written in the envelope; `None` for [`Body::Unknown`].
            pub fn kind(&self) -> Option<&'static str> {
                match self {
                    $(Body::$variant(_) => Some($kind),)+
                    Body::Unknown => None,
                }
            }

            /// The body as JSON text; `None` for [`Body::Unknown`], which is never written.
            pub fn to_text(&self) -> Option<String> {
                match self {
                    $(Body::$variant(body) => serde_json::to_string(body).ok(),)+
                    Body::Unknown => None,
                }
            }
        }
    };
}

kinds! {
    /// Brings a subject to life.
    Opened(Opened) = "opened",
    /// Sets a plain field.
    Detail(Detail) = "detail",
    /// Agreed work.
    Agreed(Agreed) = "agreed",
    /// A photograph.
    Photo(Photo) = "photo",
    /// Work done.
    Step(Step) = "step",
    /// A remark.
    Note(Note) = "note",
    /// The pair has left the shop.
    HandedOver(Plain) = "handed_over",
    /// The secret of a card link.
    CardLink(CardLink) = "card_link",
    /// A section of the card.
    Published(Published) = "published",
    /// The card (about a pair) or one section (about a job) is taken back.
    Withdrawn(Plain) = "withdrawn",
    /// Hides an entry.
    Retracted(Retracted) = "retracted",
    /// Joins two subjects.
    SameAs(SameAs) = "same_as",
    /// Destroys content.
    Erased(Erased) = "erased",
}
