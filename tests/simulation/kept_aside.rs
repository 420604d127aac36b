//! What a repairer does with entries that the server keeps aside.

use std::collections::BTreeSet;

use app_core::store::memory::now;
use server_core::shop::Member;
use shared::log::body::Role;
use shared::log::roles::may_write;
use shared::log::{Body, DeviceId, Entry, SubjectId, SubjectKind, is_erasure};
use shared::sync::messages::{
    KeptAside, KeptAsideDecision, MAX_ERASED_BLOBS, MAX_ERASED_MENTIONS, MAX_ERASED_SUBJECTS, PushOutcome,
};
use support::memory::MemoryShop;

use crate::dice::Dice;
use crate::seen::{Erasable, Seen};
use crate::server_log::ServerLog;

/// A repairer's device, the shop, and the device that lies, if there is one.
pub(crate) struct Repairer<'a> {
    pub(crate) member: Member,
    pub(crate) shop: &'a MemoryShop,
    pub(crate) liar: Option<DeviceId>,
    pub(crate) seen: &'a Seen,
}

impl Repairer<'_> {
    /// Takes some of it, drops some, and leaves the rest for later.
    pub(crate) fn look_through(&self, dice: &Dice) {
        let kept = self.kept();
        let mut decision = KeptAsideDecision::default();
        for one in &kept {
            let id = one.entry.entry.id;
            match dice.between(1, 4) {
                1 | 2 if self.may_take(one) => decision.take.push(id),
                3 if self.may_drop(one) => decision.drop.push(id),
                _ => {}
            }
        }
        self.decide(&kept, &decision);
    }

    /// Takes all that honest devices have sent, but no more erasures than the server takes in a day, and drops the rest.
    pub(crate) fn clear(&self) {
        let kept = self.kept();
        let mut decision = KeptAsideDecision::default();
        let (mut subjects, mut blobs, mut mentions) =
            (MAX_ERASED_SUBJECTS, MAX_ERASED_BLOBS, MAX_ERASED_MENTIONS);
        let mut others = usize::MAX;
        for one in &kept {
            let entry = &one.entry.entry;
            if self.is_of_liar(one) {
                decision.drop.push(entry.id);
                continue;
            }
            let left = match Erasable::of(entry).filter(|_| is_erasure(&entry.kind)) {
                Some(Erasable::Subject(_)) => &mut subjects,
                Some(Erasable::Blob(_)) => &mut blobs,
                Some(Erasable::Mention(..)) => &mut mentions,
                None => &mut others,
            };
            if *left > 0 {
                *left -= 1;
                decision.take.push(entry.id);
            }
        }
        self.decide(&kept, &decision);
    }

    fn kept(&self) -> Vec<KeptAside> {
        let kept = kept_aside(self.shop);
        for one in kept.iter().filter(|one| !self.is_of_liar(one)) {
            is_kept_with_reason(one);
        }
        kept
    }

    fn is_of_liar(&self, one: &KeptAside) -> bool {
        Some(one.device) == self.liar
    }

    /// Whether nothing of it has to be left for [`Repairer::clear`]. A repairer reads what the device that lies has sent,
    /// and sees what is odd.
    fn may_take(&self, one: &KeptAside) -> bool {
        let entry = &one.entry.entry;
        if self.is_of_liar(one) {
            !is_odd(entry, self.shop_id())
        } else {
            Erasable::of(entry).is_none()
        }
    }

    fn may_drop(&self, one: &KeptAside) -> bool {
        self.is_of_liar(one) || Erasable::of(&one.entry.entry).is_none()
    }

    fn shop_id(&self) -> SubjectId {
        SubjectId(now(self.shop.status()).expect("the server answers").shop)
    }

    fn decide(&self, kept: &[KeptAside], decision: &KeptAsideDecision) {
        for one in kept
            .iter()
            .filter(|one| decision.take.contains(&one.entry.entry.id))
        {
            if self.is_of_liar(one) {
                self.seen.erasing_by(&one.entry.entry);
            }
        }
        if decision.take.is_empty() && decision.drop.is_empty() {
            return;
        }
        let start = self.shop.world().now();
        let answer = now(self.shop.decide_kept_aside(&self.member, decision)).expect("a repairer decides");
        for (id, taken) in &answer.taken {
            match taken {
                PushOutcome::Accepted { received } => {
                    assert!(*received >= start, "taken as if it had been received before");
                }
                PushOutcome::Refused(_) => self.seen.give_up(*id),
            }
        }
        decision.drop.iter().for_each(|id| self.seen.give_up(*id));
        self.nothing_decided_is_left(decision);
    }

    fn nothing_decided_is_left(&self, decision: &KeptAsideDecision) {
        let left = kept_aside(self.shop);
        let left: BTreeSet<_> = left.iter().map(|one| one.entry.entry.id).collect();
        let mut decided = decision.take.iter().chain(&decision.drop);
        assert!(
            decided.all(|id| !left.contains(id)),
            "decided and still kept aside"
        );
        let log = ServerLog::read(self.shop);
        let dropped = decision.drop.iter().any(|id| log.entries.contains_key(id));
        assert!(!dropped, "dropped and in the records");
    }
}

/// Everything that is kept aside.
pub(crate) fn kept_aside(shop: &MemoryShop) -> Vec<KeptAside> {
    let answer = now(shop.kept_aside()).expect("the server answers");
    assert!(!answer.more, "a simulation keeps little aside");
    answer.entries
}

/// Whether no repairer takes this: it says of the shop that it is another kind of subject or the same as one, or erases it.
fn is_odd(entry: &Entry, shop: SubjectId) -> bool {
    let about_shop = entry.subject.id == shop;
    match Body::of(entry) {
        Body::SameAs(same) => about_shop || same.other == shop,
        _ => about_shop && (entry.subject.kind != SubjectKind::Shop || Erasable::of(entry).is_some()),
    }
}

/// What an honest helper may write, and names no other entry, is never kept aside from the device that made it.
fn is_kept_with_reason(one: &KeptAside) {
    let entry = &one.entry.entry;
    let names = !entry.over.is_empty() || ["retracted", "same_as"].contains(&entry.kind.as_str());
    let may = may_write(&Role::Helper, &entry.subject.kind, &entry.kind);
    let is_own = entry.device == one.device;
    assert!(
        names || !may || !is_own,
        "a helper's work is kept aside: {entry:?}"
    );
}
