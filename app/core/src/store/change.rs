//! One record as it was and as it shall be, and whom such changes concern.

use std::collections::BTreeSet;

use shared::log::body::Body;
use shared::log::{EntryId, ReceivedEntry, SubjectId, SubjectKind, about};

use super::lookup::HeldCopy;
use super::record::Record;

/// What a batch has touched: whose summaries may be out of date.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(super) struct Touched {
    /// Subjects about which something changed.
    pub(super) subjects: BTreeSet<SubjectId>,
    /// Pairs that may not have a summary yet.
    pub(super) pairs: BTreeSet<SubjectId>,
    /// Entries that came with the id of another and were left out.
    pub(super) conflicts: Vec<EntryId>,
}

impl Touched {
    /// Everything that depends on an entry as it is now.
    pub(super) fn note(&mut self, held: &ReceivedEntry) {
        self.subjects.extend(about(&held.entry));
        if held.entry.subject.kind == SubjectKind::Pair {
            self.pairs.insert(held.entry.subject.id);
        }
        match Body::of(&held.entry) {
            Body::Opened(opened) => self.pairs.extend(opened.pair),
            Body::SameAs(same) if held.entry.subject.kind == SubjectKind::Pair => {
                self.pairs.insert(same.other);
            }
            _ => {}
        }
    }
}

/// One record as it was and as it shall be.
#[derive(Debug)]
pub(super) struct RecordChange {
    /// What is held; `None` for an entry that is new here.
    pub(super) before: Option<HeldCopy>,
    /// What is written.
    pub(super) now: Record,
}

impl RecordChange {
    /// A change of a record that stands in the tail.
    pub(super) fn of_live(before: Record, now: Record) -> Self {
        Self {
            before: Some(HeldCopy::Live(before)),
            now,
        }
    }

    /// Whether it is acknowledged now and was not before. What changes later stands in the tail, and so does what a
    /// newer app has noted beside an entry: the archive has no place for that.
    pub(super) fn is_settled(&self) -> bool {
        let was_settled = match &self.before {
            None => false,
            Some(HeldCopy::Live(record)) => record.is_acknowledged(),
            Some(HeldCopy::Archived(_)) => true,
        };
        self.now.is_acknowledged() && self.now.more.is_empty() && !was_settled
    }

    /// Whether anything can read differently after it. That an entry was received changes nothing as long as it
    /// keeps its place in the order, as it does under every clock that is not ahead of the server's.
    pub(super) fn tells(&self) -> bool {
        let now = &self.now.held;
        self.is_read() != self.was_read()
            || self
                .held_before()
                .is_none_or(|before| before.position() != now.position() || before.entry != now.entry)
    }

    /// Whether it is read from now on: not set aside.
    pub(super) fn is_read(&self) -> bool {
        !self.now.aside
    }

    /// Whether it was here and read before.
    pub(super) fn was_read(&self) -> bool {
        match &self.before {
            Some(HeldCopy::Live(record)) => !record.aside,
            Some(HeldCopy::Archived(_)) => true,
            None => false,
        }
    }

    /// The entry, if it is an erasure that a server is known to have from now on.
    pub(super) fn acknowledges_erasure(&self) -> Option<&ReceivedEntry> {
        let (was_unsent, was_refused) = self.status_before();
        let news = self.before.is_none() || was_unsent || was_refused;
        let erased = self.now.held.entry.kind == "erased";
        (erased && news && self.now.is_acknowledged()).then_some(&self.now.held)
    }

    pub(super) fn held_before(&self) -> Option<&ReceivedEntry> {
        self.before.as_ref().map(HeldCopy::held)
    }

    /// Whether it was unsent, and whether it was refused.
    pub(super) fn status_before(&self) -> (bool, bool) {
        match &self.before {
            Some(HeldCopy::Live(record)) => (record.unsent, record.refused.is_some()),
            _ => (false, false),
        }
    }

    /// The entry as it shall be, for erasures.
    pub(super) fn held_mut(&mut self) -> &mut ReceivedEntry {
        &mut self.now.held
    }

    /// The entry as it shall be.
    pub(super) fn held(&self) -> &ReceivedEntry {
        &self.now.held
    }

    /// The content that this change blanks, if it does.
    pub(super) fn blanks(&self) -> Option<&ReceivedEntry> {
        self.held_before()
            .filter(|before| !before.entry.is_blank() && self.now.held.entry.is_blank())
    }
}
