//! From entries to state.
//!
//! State is a pure function of a set of entries: it never depends on the order or the number of times they arrived.
//! [`JobState`], [`TicketState`], [`PairState`], [`CustomerState`], [`MaterialState`] and [`ShopState`] are the states
//! of the six kinds of subject; [`gather`] collects the history of a pair from a store, and [`links`] finds the
//! subjects that belong to it; [`summary`] is the line that lists and searches show of a pair; [`card`] decides what
//! the customer sees of it.

pub mod bench;
pub mod card;
mod customer_state;
mod details;
mod findings;
pub mod gather;
mod item;
mod job_state;
pub mod links;
mod material_state;
mod next_line;
mod pair_state;
mod search_words;
mod shop_state;
mod standing;
mod subject_map;
pub mod summary;
mod ticket_state;

pub use card::{Card, Shown};
pub use customer_state::CustomerState;
pub use details::Details;
pub use gather::{PairHistory, PairHistoryLoader};
pub use item::{AgreedLine, Item, Slot};
pub use job_state::JobState;
pub use links::PairLinks;
pub use material_state::MaterialState;
pub use next_line::NextLine;
pub use pair_state::PairState;
pub use shop_state::ShopState;
pub use subject_map::SubjectMap;
pub use summary::{JobLine, Summary};
pub use ticket_state::TicketState;

use std::collections::BTreeMap;

use super::body::ErasureAsked;
use super::entry::EntryId;
use super::erasure::Erasures;
use super::received::{Merged, ReceivedEntry};
use super::supersession::Supersession;

/// The version of the fold. It is raised when the same entries would give another [`Summary`] or other
/// [`PairFacts`](crate::price::records::PairFacts); what is stored of an older version is then folded afresh.
pub const FOLD_VERSION: u32 = 14;

/// The requests for an erasure among the entries of one subject that nobody has called off, whether or not they have been
/// fulfilled.
pub fn erasures_asked<'a>(entries: impl IntoIterator<Item = &'a ReceivedEntry>) -> Vec<Item<ErasureAsked>> {
    standing::requests(&Supersession::of(entries))
}

/// A growing set of entries, merged as they arrive. The caller applies the known erasures to each entry first.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Entries {
    received: BTreeMap<EntryId, ReceivedEntry>,
}

impl Entries {
    /// Adds one copy of an entry. Returns what merging did, or `None` if the set held no copy of it.
    pub fn take(&mut self, received: ReceivedEntry) -> Option<Merged> {
        match self.received.get_mut(&received.entry.id) {
            Some(known) => Some(known.merge(&received, &Erasures::default())),
            None => {
                self.received.insert(received.entry.id, received);
                None
            }
        }
    }

    /// The entries, by id.
    pub fn iter(&self) -> impl Iterator<Item = &ReceivedEntry> {
        self.received.values()
    }
}

impl FromIterator<ReceivedEntry> for Entries {
    fn from_iter<I: IntoIterator<Item = ReceivedEntry>>(entries: I) -> Self {
        let mut all = Self::default();
        for received in entries {
            all.take(received);
        }
        all
    }
}
