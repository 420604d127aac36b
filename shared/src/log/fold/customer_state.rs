//! The state of a customer.

use super::details::Details;
use super::item::Item;
use super::standing::{erased, open_requests};
use crate::log::body::{ErasureAsked, field};
use crate::log::received::ReceivedEntry;
use crate::log::supersession::Supersession;

/// Everything a customer's standing entries say.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct CustomerState {
    /// Its plain fields.
    pub details: Details,
    /// Whether an erasure has blanked it.
    pub erased: bool,
    /// Standing requests to erase the customer, or a voice note about them, that have not been fulfilled.
    pub erasures_asked: Vec<Item<ErasureAsked>>,
}

impl CustomerState {
    /// Folds the entries of one customer, or of several that are the same. Any order; no two of one id.
    pub fn of<'a>(entries: impl IntoIterator<Item = &'a ReceivedEntry>) -> Self {
        Self::of_standing(&Supersession::of(entries))
    }

    /// Folds the standing entries. Apart from `of`, which is compiled anew for every type of iterator it is given.
    fn of_standing(standing: &Supersession<'_>) -> Self {
        Self {
            details: Details::of(standing),
            erased: erased(standing),
            erasures_asked: open_requests(standing),
        }
    }

    /// The name.
    pub fn name(&self) -> Option<&str> {
        self.details.text(field::NAME)
    }

    /// A telephone number.
    pub fn phone(&self) -> Option<&str> {
        self.details.text(field::PHONE)
    }

    /// Further telephone numbers.
    pub fn phone_second(&self) -> Option<&str> {
        self.details.text(field::PHONE_SECOND)
    }
}
