//! From entries to state.
//!
//! State is a pure function of a set of entries: it never depends on the order or the number of times they
//! arrived. [`JobState`], [`TicketState`], [`PairState`], [`CustomerState`]
//! and [`ShopState`] are what one subject says; [`gather`] collects a pair's whole life from a store; [`summary`]
//! is the line that lists and searches show of it; [`card`] decides what its customer sees.

pub mod bench;
pub mod card;
mod customer_state;
mod details;
pub mod gather;
mod item;
mod job_state;
mod pair_state;
mod shop_state;
mod standing;
pub mod summary;
mod ticket_state;

pub use card::{Card, Shown};
pub use customer_state::CustomerState;
pub use details::Details;
pub use gather::{PairHistory, PairHistoryLoader};
pub use item::{AgreedLine, Item, Slot};
pub use job_state::JobState;
pub use pair_state::PairState;
pub use shop_state::ShopState;
pub use summary::{JobLine, Summary};
pub use ticket_state::TicketState;

use std::collections::BTreeMap;

use super::entry::EntryId;
use super::erasure::Erasures;
use super::received::{Merged, ReceivedEntry};

/// Changes when the same entries would fold to another [`Summary`] or to other [`PairFacts`](crate::price::records::PairFacts):
/// what is stored of an older version is folded afresh.
pub const FOLD_VERSION: u32 = 9;

/// A growing set of entries, merged as they arrive. Whoever holds them has applied the known erasures to them before.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Entries {
    held: BTreeMap<EntryId, ReceivedEntry>,
}

impl Entries {
    /// Takes in one copy of an entry. `None`: it is new here.
    pub fn take(&mut self, held: ReceivedEntry) -> Option<Merged> {
        match self.held.get_mut(&held.entry.id) {
            Some(known) => Some(known.merge(&held, &Erasures::default())),
            None => {
                self.held.insert(held.entry.id, held);
                None
            }
        }
    }

    /// The entries, by id.
    pub fn iter(&self) -> impl Iterator<Item = &ReceivedEntry> {
        self.held.values()
    }
}

impl FromIterator<ReceivedEntry> for Entries {
    fn from_iter<I: IntoIterator<Item = ReceivedEntry>>(entries: I) -> Self {
        let mut all = Self::default();
        for held in entries {
            all.take(held);
        }
        all
    }
}
