//! The state of a ticket.

use super::details::Details;
use super::item::{Item, Slot};
use super::standing::{list, slot};
use crate::log::body::{Note, Opened, Payment, Sold, field};
use crate::log::entry::SubjectId;
use crate::log::received::ReceivedEntry;
use crate::log::supersession::Supersession;
use crate::price::minor::Minor;

/// Everything a ticket's standing entries say.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct TicketState {
    /// Its plain fields.
    pub details: Details,
    /// The customer it is for.
    pub opened: Option<Slot<Opened>>,
    /// Payments and refunds.
    pub payments: Vec<Item<Payment>>,
    /// Goods sold over the counter.
    pub sold: Vec<Item<Sold>>,
    /// Remarks.
    pub notes: Vec<Item<Note>>,
}

impl TicketState {
    /// Folds the entries of one ticket, or of several that are the same. Any order; no two of one id.
    pub fn of<'a>(entries: impl IntoIterator<Item = &'a ReceivedEntry>) -> Self {
        Self::of_standing(&Supersession::of(entries))
    }

    /// Folds the standing entries. Apart from `of`, which is compiled anew for every type of iterator it is given.
    fn of_standing(standing: &Supersession<'_>) -> Self {
        Self {
            details: Details::of(standing),
            opened: slot(standing),
            payments: list(standing),
            sold: list(standing),
            notes: list(standing),
        }
    }

    /// The customer it is for.
    pub fn customer(&self) -> Option<SubjectId> {
        self.opened.as_ref()?.current.body.customer
    }

    /// The day promised, `YYYY-MM-DD`.
    pub fn day(&self) -> Option<&str> {
        self.details.text(field::DAY)
    }

    /// The time on that day from which the pairs are promised to be ready, `HH:MM` on the shop's clock; `None` if they
    /// are promised for the end of the day.
    pub fn ready_from(&self) -> Option<&str> {
        self.details.text(field::READY_FROM)
    }

    /// Whether the customer wants it sooner than the shop would promise.
    pub fn is_rush(&self) -> bool {
        self.details.is(field::RUSH)
    }

    /// Whether the customer waits in the shop.
    pub fn is_while_waiting(&self) -> bool {
        self.details.is(field::WHILE_WAITING)
    }

    /// The most that hidden damage may cost without a call, in minor units; `None` where nothing may be done or the
    /// customer is to be asked.
    pub fn hidden_limit(&self) -> Option<Minor> {
        self.details.number(field::IF_HIDDEN).map(Minor)
    }

    /// The rate of tax, in thousandths. Positive if the prices include it, negative if it is added to them; `None` for
    /// no tax.
    pub fn tax(&self) -> Option<i64> {
        self.details.number(field::TAX).filter(|rate| *rate != 0)
    }
}
