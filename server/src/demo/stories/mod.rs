//! The stories: what was brought, found and done, oldest ticket first within each file.

mod lasting;
mod quayside;
mod ready;
mod today;

use super::story::Ticket;

/// Every ticket.
pub(super) fn all() -> impl Iterator<Item = &'static Ticket> {
    [
        lasting::TICKETS,
        quayside::TICKETS,
        ready::TICKETS,
        today::TICKETS,
    ]
    .into_iter()
    .flatten()
}
