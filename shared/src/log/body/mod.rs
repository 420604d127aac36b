//! The kinds of entry this version understands. Every other kind is kept, forwarded and shown as made by a
//! newer app.
//!
//! A body is JSON text. It is never rewritten: reading gives a typed view, the text stays as it came. Unknown
//! fields are ignored in the view and so survive in the text. Fields are only ever added, with defaults.

mod card;
mod common;
mod counter;
pub mod field;
mod inside;
mod material;
pub mod material_field;
mod operation_code;
mod ties;
mod work;

pub use card::{CardLink, CardPhoto, Published, Section, Withdrawn};
pub use common::{Blob, Shows, Side};
pub use counter::{Cause, Checked, Complaint, Detail, HandedOver, Opened, Paid, Payment, Person, Role, Sold};
pub use inside::{
    Answer, Choice, Damage, Decision, KeptFor, Outcome, Pays, PutBack, Question, Seen, TakenOut,
};
pub use material::{Counted, Delivery, Ordered, SHELF};
pub use operation_code::OperationCode;
pub use ties::{Erased, ErasureAsked, MentionErased, Retracted, SameAs};
pub use work::{
    Agreed, Gift, GiftWhy, Measured, Note, Order, Photo, Redo, Skipped, Spent, Step, Used, Wait, WaitFor,
    WaitOver,
};

use serde_json::Value;

use super::entry::Entry;

/// A kind of entry whose typed body can be taken out of a [`Body`].
pub trait BodyKind: Clone {
    /// The body as this kind; `None` if it is of another kind.
    fn of(body: &Body) -> Option<&Self>;
}

macro_rules! kinds {
    ($($(#[$meta:meta])* $variant:ident($body:ty) = $kind:literal),+ $(,)?) => {
        /// The typed view of an entry's body.
        #[derive(Debug, Clone, PartialEq)]
        pub enum Body {
            $($(#[$meta])* $variant($body),)+
            /// A kind or shape that this version cannot read, or a blanked body. The app shows it as made by a newer
            /// app.
            Unknown,
        }

        $(impl BodyKind for $body {
            fn of(body: &Body) -> Option<&Self> {
                match body {
                    Body::$variant(body) => Some(body),
                    _ => None,
                }
            }
        })+

        impl Body {
            /// Every kind that this version understands, as it is written in the envelope.
            pub const KINDS: &'static [&'static str] = &[$($kind),+];

            /// Reads an entry's body. Never fails: what cannot be read is [`Body::Unknown`].
            pub fn of(entry: &Entry) -> Body {
                Body::read(&entry.kind, &entry.body)
            }

            /// Reads a body of this kind. Never fails, as [`Body::of`].
            pub fn read(kind: &str, body: &str) -> Body {
                match kind {
                    $($kind => serde_json::from_str(body).map_or(Body::Unknown, Body::$variant),)+
                    _ => Body::Unknown,
                }
            }

            /// Reads a body of this kind that is part of another one. It is read from its text, because the code that reads
            /// every kind from a value as well would be as large as all the code that reads them from text.
            pub fn of_value(kind: &str, body: &Value) -> Body {
                Body::read(kind, &body.to_string())
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
    /// Opens a subject.
    Opened(Opened) = "opened",
    /// Sets a plain field.
    Detail(Detail) = "detail",
    /// Agreed work.
    Agreed(Agreed) = "agreed",
    /// Agreed work that will not be done.
    Skipped(Skipped) = "skipped",
    /// The order of the remaining work.
    Order(Order) = "order",
    /// A photograph.
    Photo(Photo) = "photo",
    /// Work done.
    Step(Step) = "step",
    /// A step to be made again.
    Redo(Redo) = "redo",
    /// What a step took, entered afterwards.
    Spent(Spent) = "spent",
    /// Time that must pass.
    Wait(Wait) = "wait",
    /// A wait that is over.
    WaitOver(WaitOver) = "wait_over",
    /// Damage, at the counter or inside.
    Damage(Damage) = "damage",
    /// A part that was taken out and must go back in.
    TakenOut(TakenOut) = "taken_out",
    /// A part that is back in its place.
    PutBack(PutBack) = "put_back",
    /// A question to the customer.
    Question(Question) = "question",
    /// The customer's answer to a question.
    Answer(Answer) = "answer",
    /// Something measured on the pair or calculated from it.
    Measured(Measured) = "measured",
    /// A remark.
    Note(Note) = "note",
    /// A payment on a ticket.
    Payment(Payment) = "payment",
    /// Goods sold over the counter.
    Sold(Sold) = "sold",
    /// A job that repeats earlier work at no charge because of a complaint.
    Complaint(Complaint) = "complaint",
    /// The final check is finished.
    Checked(Checked) = "checked",
    /// The pair has left the shop.
    HandedOver(HandedOver) = "handed_over",
    /// A person who works in the shop.
    Person(Person) = "person",
    /// A material was counted.
    Counted(Counted) = "counted",
    /// A material was ordered.
    Ordered(Ordered) = "ordered",
    /// A material has arrived.
    Delivery(Delivery) = "arrived",
    /// The secret of a card link.
    CardLink(CardLink) = "card_link",
    /// A section of the card.
    Published(Published) = "published",
    /// Takes back the whole card (about a pair) or one section of it (about a job).
    Withdrawn(Withdrawn) = "withdrawn",
    /// Hides a mistaken entry.
    Retracted(Retracted) = "retracted",
    /// Says that two subjects are the same thing.
    SameAs(SameAs) = "same_as",
    /// Destroys the content of a subject or a blob.
    Erased(Erased) = "erased",
    /// Asks for an erasure, which follows after two days unless this is retracted.
    ErasureAsked(ErasureAsked) = "erasure_asked",
    /// Destroys what one entry says of a person who is erased.
    MentionErased(MentionErased) = "mention_erased",
}
