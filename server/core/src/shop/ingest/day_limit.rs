//! How much a shop may still erase today. Whoever has got hold of a repairer's device cannot erase all of it at once.

use shared::log::{Entry, Erasures, UnixMs};
use shared::sync::messages::{
    ERASURES_WITHIN_MS, MAX_ERASED_BLOBS, MAX_ERASED_MENTIONS, MAX_ERASED_SUBJECTS,
};

use crate::store::{CountedErasure, ErasedThing};

/// The erasures that count, and those that do not because they were asked for long enough ago.
#[derive(Debug, Default)]
pub(super) struct DayLimit {
    now: UnixMs,
    counted: Vec<CountedErasure>,
    asked_for: Erasures,
    /// Whether this batch has added one.
    changed: bool,
    /// Whether nothing counts.
    off: bool,
}

impl DayLimit {
    /// `counted` are the erasures that count; those of former days are left out.
    pub(super) fn new(now: UnixMs, mut counted: Vec<CountedErasure>, asked_for: Erasures) -> Self {
        let day = ERASURES_WITHIN_MS.unsigned_abs();
        counted.retain(|erasure| erasure.at.0.abs_diff(now.0) < day);
        Self {
            now,
            counted,
            asked_for,
            ..Self::default()
        }
    }

    /// No limit, for what the server itself takes from its ledger.
    pub(super) fn off() -> Self {
        Self {
            off: true,
            ..Self::default()
        }
    }

    /// Whether this erasure is taken. One that is among `known`, or was asked for, does not count. One entry can
    /// erase several mentions, each of which counts.
    pub(super) fn takes(&mut self, entry: &Entry, known: &Erasures) -> bool {
        let one = erased_by(entry);
        if self.off || one.is_within(known) || one.is_within(&self.asked_for) {
            return true;
        }
        let (what, most, new) = if !one.blobs.is_empty() {
            (ErasedThing::Blob, MAX_ERASED_BLOBS, 1)
        } else if !one.mentions.is_empty() {
            let new = one.mentions.difference(&known.mentions).count();
            (ErasedThing::Mention, MAX_ERASED_MENTIONS, new)
        } else {
            (ErasedThing::Subject, MAX_ERASED_SUBJECTS, 1)
        };
        let alike = self.counted.iter().filter(|erasure| erasure.what == what);
        let takes = alike.count() + new <= most;
        if takes {
            let at = self.now;
            self.counted.extend(vec![CountedErasure { at, what }; new]);
            self.changed = true;
        }
        takes
    }

    /// The erasures that count from now on, if this batch has added one.
    pub(super) fn counted(self) -> Option<Vec<CountedErasure>> {
        self.changed.then_some(self.counted)
    }
}

/// What this entry alone erases.
pub(super) fn erased_by(entry: &Entry) -> Erasures {
    let mut one = Erasures::default();
    one.note(entry);
    one
}
