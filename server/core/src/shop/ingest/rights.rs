//! What the device that pushes a batch may write, by its role. It is decided by the role of that device at the time of the
//! push, and neither by the device nor by the person that an entry names as its maker.

use std::collections::{HashMap, HashSet};

use shared::log::body::Role;
use shared::log::{Body, DeviceId, Entry, EntryId, Subject, SubjectId, SubjectKind, roles};

use crate::shop::members::Member;
use crate::store::{NamedEntry, StoredEntry};

/// How many entries are looked at to find what comes back when an entry hides a retraction: each retraction leads to
/// the entry that it hides itself, and the device must be allowed to write every one of them. Where more would follow,
/// what comes back is not known, and the device may not write the entry.
///
/// The app needs two: a retraction that is undone, and what that hides. Sixteen leave room for other versions and bound
/// the work, because each is one more query for a batch.
pub(super) const LEVELS: usize = 16;

/// Who pushes a batch.
#[derive(Debug, Clone, Copy)]
pub(in crate::shop) enum Pusher<'a> {
    /// The server itself, which at its start takes again what its ledger has.
    Shop,
    /// A device.
    Device(&'a Member),
}

impl<'a> Pusher<'a> {
    /// The device, if it is one.
    pub(super) fn device(self) -> Option<DeviceId> {
        match self {
            Self::Shop => None,
            Self::Device(member) => Some(member.device),
        }
    }

    /// The device, if its role limits what it may write: a helper's device, or one with a role that this version does
    /// not know. `None` for a repairer's device and for the server itself, which may write any kind about any subject.
    pub(super) fn limited(self) -> Option<&'a Member> {
        match self {
            Self::Device(member) if member.role != Role::Repairer => Some(member),
            Self::Shop | Self::Device(_) => None,
        }
    }
}

/// What is known of the device that pushes, and what its batch names.
#[derive(Debug, Default)]
pub(super) struct Rights {
    /// The device that pushes, if it may not write everything.
    pub(super) limited: Option<Member>,
    /// Those entries of the batch that this device was asked for.
    pub(super) asked: HashSet<EntryId>,
    /// Those stored entries that entries of the batch replace or retract, and those that these retract, and so on.
    pub(super) named: HashMap<EntryId, NamedEntry>,
    /// Every subject id that is the shop's, if the device is limited or the batch erases anything; else empty.
    pub(super) shops: HashSet<SubjectId>,
}

impl Rights {
    /// Whether this is a subject of the shop, whatever kind is claimed for it.
    pub(super) fn is_shop(&self, subject: &Subject) -> bool {
        subject.kind == SubjectKind::Shop || self.shops.contains(&subject.id)
    }

    /// Whether the device may send this entry: it has made it, or was asked for it.
    pub(super) fn may_bring(&self, entry: &Entry) -> bool {
        let own = |member: &Member| member.device == entry.device;
        self.limited.as_ref().is_none_or(own) || self.asked.contains(&entry.id)
    }

    /// Whether it counts when the entry was first received according to the device.
    pub(super) fn is_believed(&self, id: EntryId) -> bool {
        self.limited.is_none() || self.asked.contains(&id)
    }

    /// Whether a new entry is accepted. `stored` are the entries of the batch that are stored, or were accepted before this
    /// one.
    pub(super) fn may_enter(&self, entry: &Entry, stored: &HashMap<EntryId, StoredEntry>) -> bool {
        self.limited.is_none()
            || (self.may_bring(entry)
                && self.may_write(&entry.subject, &entry.kind)
                && self.may_name_all(entry, stored))
    }

    /// Whether the content of an entry is accepted that is stored blank without an erasure.
    pub(super) fn may_fill(&self, entry: &Entry, stored: &HashMap<EntryId, StoredEntry>) -> bool {
        self.is_believed(entry.id) && self.may_enter(entry, stored)
    }

    fn may_write(&self, subject: &Subject, kind: &str) -> bool {
        let shop = SubjectKind::Shop;
        let about = if self.is_shop(subject) {
            &shop
        } else {
            &subject.kind
        };
        let may = |member: &Member| roles::may_write(&member.role, about, kind);
        self.limited.as_ref().is_none_or(may)
    }

    /// Whether the device may write all that this entry hides or joins.
    fn may_name_all(&self, entry: &Entry, stored: &HashMap<EntryId, StoredEntry>) -> bool {
        let by_its_body = match Body::of(entry) {
            Body::Retracted(retraction) => self.may_name(retraction.entry, stored),
            Body::SameAs(same) => !self.shops.contains(&same.other),
            // A later version may read what this one cannot.
            _ => !matches!(entry.kind.as_str(), "retracted" | "same_as"),
        };
        by_its_body && entry.over.iter().all(|id| self.may_name(*id, stored))
    }

    /// Whether the device may replace or retract this entry. Retracting a retraction brings back what that one hid, so the
    /// device has to be allowed to write that too.
    fn may_name(&self, id: EntryId, stored: &HashMap<EntryId, StoredEntry>) -> bool {
        let mut next = id;
        for _ in 0..LEVELS {
            let fresh = stored.get(&next).map(|stored| NamedEntry::of(&stored.held.entry));
            let Some(named) = fresh.or_else(|| self.named.get(&next).cloned()) else {
                return false;
            };
            if !self.may_write(&named.subject, &named.kind) {
                return false;
            }
            match named.retracts {
                Some(hidden) => next = hidden,
                None => return named.kind != "retracted",
            }
        }
        false
    }
}

/// The entries that this one replaces or retracts.
pub(super) fn named_by(entry: &Entry) -> Vec<EntryId> {
    let mut named = entry.over.clone();
    if let Body::Retracted(retraction) = Body::of(entry) {
        named.push(retraction.entry);
    }
    named
}
