//! The log: everything the shop knows, as immutable entries about subjects.
//!
//! Read in this order: [`entry`] (the envelope), [`order`] (the total order of entries), [`clock`] (how a device stamps
//! its entries), [`draft`] (an entry before it is stamped), [`received`] (an entry with the time of its arrival, and
//! how two copies merge), [`body`] (the kinds this version understands), [`supersession`] (what is replaced and what is
//! retracted), [`roles`] (what a device may write), [`erasure`], [`sameness`] (two subjects that are the same thing), and [`fold`] (from entries to state).
//!
#![doc = include_str!("README.md")]

pub mod about;
pub mod body;
pub mod clock;
pub mod draft;
pub mod entry;
pub mod erasure;
pub mod fold;
pub mod inserted;
mod left;
mod lower_case;
pub mod mentions;
pub(crate) mod open;
pub mod order;
pub mod received;
pub mod roles;
pub mod sameness;
pub(crate) mod skipped_fields;
pub mod supersession;

pub use about::about;
pub use body::Body;
pub use draft::Draft;
pub use entry::{DeviceId, Entry, EntryId, MadeAt, PersonId, Stamp, Subject, SubjectId, SubjectKind, UnixMs};
pub use erasure::{Erasures, is_erasure};
pub use inserted::inserted;
pub use left::left_by_all;
pub use received::{Merged, ReceivedEntry};
