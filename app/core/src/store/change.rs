//! A change of one record, and which subjects such changes affect.

use std::collections::BTreeSet;

use shared::log::body::Body;
use shared::log::{EntryId, ReceivedEntry, SubjectId, SubjectKind, about, is_erasure};

use super::lookup::HeldCopy;
use super::record::Record;

/// What a batch has changed: whose summaries may be out of date.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(super) struct Touched {
    /// Subjects with changed entries.
    pub(super) subjects: BTreeSet<SubjectId>,
    /// Pairs that may not have a summary yet.
    pub(super) pairs: BTreeSet<SubjectId>,
    /// Tickets with changed entries of their own.
    pub(super) tickets: BTreeSet<SubjectId>,
    /// Those of them of which an entry says that goods were sold.
    pub(super) sold_on: BTreeSet<SubjectId>,
    /// Customers with changed entries of their own.
    pub(super) customers: BTreeSet<SubjectId>,
    /// Ids of entries that were left out because another entry has the same id.
    pub(super) conflicts: Vec<EntryId>,
}

impl Touched {
    /// Notes everything that depends on this entry.
    pub(super) fn note(&mut self, received: &ReceivedEntry) {
        self.subjects.extend(about(&received.entry));
        let subject = &received.entry.subject;
        if subject.kind == SubjectKind::Pair {
            self.pairs.insert(subject.id);
        }
        if subject.kind == SubjectKind::Ticket {
            self.tickets.insert(subject.id);
            if received.entry.kind == "sold" {
                self.sold_on.insert(subject.id);
            }
        }
        if subject.kind == SubjectKind::Customer {
            self.customers.insert(subject.id);
        }
        match Body::of(&received.entry) {
            Body::Opened(opened) => self.pairs.extend(opened.pair),
            Body::SameAs(same) if subject.kind == SubjectKind::Pair => {
                self.pairs.insert(same.other);
            }
            _ => {}
        }
    }
}

/// A change of one record: before and after.
#[derive(Debug)]
pub(super) struct RecordChange {
    /// The stored copy; `None` for a new entry.
    pub(super) before: Option<HeldCopy>,
    /// The record to be written.
    pub(super) now: Record,
}

impl RecordChange {
    /// A change of a record in the tail.
    pub(super) fn of_live(before: Record, now: Record) -> Self {
        Self {
            before: Some(HeldCopy::Live(before)),
            now,
        }
    }

    /// Whether the change makes it acknowledged. A record that changes later stays in the tail, and so does one with
    /// fields of a newer app, for which the archive has no place.
    pub(super) fn is_settled(&self) -> bool {
        self.now.is_acknowledged() && self.now.more.is_empty() && !self.was_acknowledged()
    }

    fn was_acknowledged(&self) -> bool {
        match &self.before {
            None => false,
            Some(HeldCopy::Live(record)) => record.is_acknowledged(),
            Some(HeldCopy::Archived(_)) => true,
        }
    }

    /// Whether the change can affect what is derived from the entry. That it was received changes nothing as long as it
    /// keeps its place in the order, as it does if no clock is ahead of the server's.
    pub(super) fn tells(&self) -> bool {
        let now = &self.now.received;
        self.is_read() != self.was_read()
            || self
                .received_before()
                .is_none_or(|before| before.position() != now.position() || before.entry != now.entry)
    }

    /// Whether the entry is read after the change: it is neither set aside nor left out.
    pub(super) fn is_read(&self) -> bool {
        self.now.is_read()
    }

    /// Whether the entry was stored and read before the change.
    pub(super) fn was_read(&self) -> bool {
        match &self.before {
            Some(HeldCopy::Live(record)) => record.is_read(),
            Some(HeldCopy::Archived(_)) => true,
            None => false,
        }
    }

    /// The entry, if it is an erasure that is now known to be on a server.
    pub(super) fn acknowledges_erasure(&self) -> Option<&ReceivedEntry> {
        let erased = is_erasure(&self.now.received.entry.kind);
        (erased && self.now.is_acknowledged() && !self.was_acknowledged()).then_some(&self.now.received)
    }

    /// Whether the record differs from the stored one.
    pub(super) fn changes_anything(&self) -> bool {
        match &self.before {
            Some(HeldCopy::Live(record)) => *record != self.now,
            Some(HeldCopy::Archived(received)) => Record::acknowledged(received.clone()) != self.now,
            None => true,
        }
    }

    /// Whether a stored entry that was not to be sent is to be sent now.
    pub(super) fn sends_again(&self) -> bool {
        let (was_unsent, _) = self.status_before();
        self.before.is_some() && !was_unsent && self.now.unsent
    }

    pub(super) fn received_before(&self) -> Option<&ReceivedEntry> {
        self.before.as_ref().map(HeldCopy::received)
    }

    /// Whether it was unsent, and whether it was refused.
    pub(super) fn status_before(&self) -> (bool, bool) {
        match &self.before {
            Some(HeldCopy::Live(record)) => (record.unsent, record.refused.is_some()),
            _ => (false, false),
        }
    }

    /// The entry after the change, for erasures to blank.
    pub(super) fn received_mut(&mut self) -> &mut ReceivedEntry {
        &mut self.now.received
    }

    /// The entry after the change.
    pub(super) fn received(&self) -> &ReceivedEntry {
        &self.now.received
    }

    /// The content before the change, if the change blanks it.
    pub(super) fn blanks(&self) -> Option<&ReceivedEntry> {
        self.received_before()
            .filter(|before| !before.entry.is_blank() && self.now.received.entry.is_blank())
    }
}
