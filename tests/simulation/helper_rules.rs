//! What the server takes from a helper's device, written a second time: its answers to the device that lies are held
//! against this.

use std::collections::{BTreeMap, BTreeSet};

use shared::log::body::Role;
use shared::log::roles::may_write;
use shared::log::{Body, DeviceId, Entry, EntryId, ReceivedEntry, SubjectId, SubjectKind};

use crate::seen::Erasable;

/// A helper's device, and every id that is the shop's.
#[derive(Debug)]
pub(crate) struct HelperRules {
    pub(crate) device: DeviceId,
    pub(crate) shops: BTreeSet<SubjectId>,
}

/// So many retractions, each of another one, are followed.
const LEVELS: usize = 16;

impl HelperRules {
    /// Whether the server takes this entry, which it does not have. `known` are the entries that it has.
    pub(crate) fn allow(&self, entry: &Entry, known: &BTreeMap<EntryId, ReceivedEntry>) -> bool {
        let mut named = entry.over.clone();
        let mut joins_shop = false;
        match Body::of(entry) {
            Body::Retracted(retracted) => named.push(retracted.entry),
            Body::SameAs(same) => joins_shop = self.shops.contains(&same.other),
            _ => {}
        }
        let is_own = entry.device == self.device;
        let mut named = named.into_iter();
        is_own && !joins_shop && self.may_write(entry) && named.all(|id| self.may_hide(id, known, LEVELS))
    }

    /// Whether a helper may hide this entry; of a retraction, also what it hides, which shows again.
    fn may_hide(&self, id: EntryId, known: &BTreeMap<EntryId, ReceivedEntry>, levels: usize) -> bool {
        let Some(held) = known.get(&id).filter(|_| levels > 0) else {
            return false;
        };
        let hides_on = match Body::of(&held.entry) {
            Body::Retracted(retracted) => self.may_hide(retracted.entry, known, levels - 1),
            _ => true,
        };
        hides_on && self.may_write(&held.entry)
    }

    /// Whether this entry erases the shop or what an entry of it says, or asks for that.
    pub(crate) fn erases_shop(&self, entry: &Entry) -> bool {
        let is_shop = entry.subject.kind == SubjectKind::Shop || self.shops.contains(&entry.subject.id);
        is_shop
            && matches!(
                Erasable::of(entry),
                Some(Erasable::Subject(_) | Erasable::Mention(..))
            )
    }

    /// Whether a helper writes entries of this kind about this subject. A subject that has the shop's id is the shop,
    /// whatever the entry says.
    fn may_write(&self, entry: &Entry) -> bool {
        let is_shop = self.shops.contains(&entry.subject.id);
        let kind = if is_shop {
            &SubjectKind::Shop
        } else {
            &entry.subject.kind
        };
        may_write(&Role::Helper, kind, &entry.kind)
    }
}
