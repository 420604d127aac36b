//! What the server has numbered, and what it says together.

use std::collections::{BTreeMap, BTreeSet};

use app_core::store::memory::now;
use shared::log::body::Role;
use shared::log::fold::ShopState;
use shared::log::sameness::class_of;
use shared::log::supersession::Supersession;
use shared::log::{EntryId, Erasures, ReceivedEntry, SubjectId, SubjectKind};
use support::memory::MemoryShop;

use crate::seen::{Erasable, Seen};

/// Everything the server has numbered, as a device that starts from zero reads it.
#[derive(Debug)]
pub(crate) struct ServerLog {
    /// The last number.
    pub(crate) seq: u64,
    pub(crate) entries: BTreeMap<EntryId, ReceivedEntry>,
}

impl ServerLog {
    pub(crate) fn read(shop: &MemoryShop) -> Self {
        let mut entries = BTreeMap::new();
        let mut cursor = None;
        loop {
            let answer = now(shop.pull(&Role::Repairer, cursor, None)).expect("the server answers");
            entries.extend(answer.entries.into_iter().map(|held| (held.entry.id, held)));
            if !answer.more {
                let seq = answer.cursor.seq;
                return Self { seq, entries };
            }
            cursor = Some(answer.cursor);
        }
    }

    /// Everything that was erased.
    pub(crate) fn erasures(&self) -> Erasures {
        let mut erasures = Erasures::default();
        for held in self.entries.values() {
            erasures.note(&held.entry);
        }
        erasures
    }

    /// The state of the shop, folded afresh. `shop` is the id that it has on the server.
    pub(crate) fn shop_state(&self, shop: SubjectId) -> ShopState {
        let of_shops = || {
            let entries = self.entries.values();
            entries.filter(|held| held.entry.subject.kind == SubjectKind::Shop)
        };
        let class = class_of(shop, of_shops());
        ShopState::of(of_shops().filter(|held| class.contains(&held.entry.subject.id)))
    }

    /// Every id that is the shop's.
    pub(crate) fn shops(&self, shop: SubjectId) -> BTreeSet<SubjectId> {
        let subjects = self.entries.values().map(|held| &held.entry.subject);
        let of_shops = subjects.filter(|subject| subject.kind == SubjectKind::Shop);
        of_shops.map(|subject| subject.id).chain([shop]).collect()
    }

    /// What somebody has asked to erase, once for each request, and whether the request stands. The request itself has no
    /// content any more once its subject is erased; such requests are left out.
    pub(crate) fn requests(&self) -> Vec<(Erasable, bool)> {
        let mut by_subject: BTreeMap<SubjectId, Vec<&ReceivedEntry>> = BTreeMap::new();
        for held in self.entries.values() {
            by_subject.entry(held.entry.subject.id).or_default().push(held);
        }
        let mut requests = Vec::new();
        for own in by_subject.into_values() {
            let standing = Supersession::of(own.iter().copied());
            for held in own.iter().filter(|held| held.entry.kind == "erasure_asked") {
                let stands = !standing.is_retracted(held.entry.id);
                requests.extend(Erasable::of(&held.entry).map(|what| (what, stands)));
            }
        }
        requests
    }

    /// Whether everything that was asked to be erased, and not called off, is. Bytes can also be gone with all that
    /// was said about a subject.
    pub(crate) fn has_erased_what_was_asked_for(&self, seen: &Seen) -> bool {
        let erasures = self.erasures();
        let went = |what: &Erasable| match what {
            Erasable::Blob(hash) => seen.goes_with_subject(&erasures, hash),
            _ => false,
        };
        let requests = self.requests();
        let mut standing = requests.iter().filter(|(_, stands)| *stands);
        standing.all(|(what, _)| what.is_gone(&erasures) || went(what))
    }
}
