//! The stories: what was brought, found and done.

mod lasting;
mod midway;
mod quayside;
mod ready;
mod today;

use super::story::Ticket;

/// Every ticket; those of one pair oldest first.
pub(super) fn all() -> impl Iterator<Item = &'static Ticket> {
    let files = [
        lasting::earlier::TICKETS,
        lasting::TICKETS,
        quayside::TICKETS,
        midway::TICKETS,
        ready::TICKETS,
        today::TICKETS,
    ];
    files.into_iter().flatten()
}
