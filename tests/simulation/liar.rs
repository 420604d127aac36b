//! A device that has joined and lies. It has a helper's code, or sometimes a repairer's.
//!
//! As a helper's it tries to write everything: what it may write is taken as it is, and everything else changes
//! nothing and is kept aside for a repairer. As a repairer's it pushes blank copies of whatever anybody has written,
//! other content under known ids, and erasures of the shop. The server must take none of these. It also erases
//! mentions, as a repairer's device may: in any entry, also under another subject and in the shop's own, where
//! nothing may happen, and at times in more entries than the server takes in a day.

use std::collections::{BTreeMap, BTreeSet};

use app_core::store::memory::now;
use bytes::Bytes;
use server_core::error::Error;
use server_core::shop::{Member, read_push};
use server_core::store::BlobHash;
use shared::log::body::Role;
use shared::log::fold::ShopState;
use shared::log::{
    Body, DeviceId, Entry, EntryId, Erasures, ReceivedEntry, Subject, SubjectId, SubjectKind, UnixMs,
};
use shared::sync::Code;
use shared::sync::messages::{KeptAsideDecision, MAX_ERASED_MENTIONS, PushOutcome, PushRequest};
use support::memory::MemoryShop;

use crate::dice::Dice;
use crate::helper_rules::HelperRules;
use crate::joining::let_in;
use crate::kept_aside::kept_aside;
use crate::lies::{Known, Lies, blanked, forged};
use crate::seen::Seen;
use crate::server_log::ServerLog;

pub(crate) struct Liar {
    lies: Lies,
    token: Option<String>,
    /// Whether it is yet to erase more mentions at once than the server takes in a day.
    floods: bool,
}

/// What a lie must not change.
struct Records {
    log: ServerLog,
    shop: ShopState,
    photos: BTreeMap<BlobHash, Bytes>,
}

impl Records {
    fn of(shop: &MemoryShop, id: SubjectId) -> Self {
        let log = ServerLog::read(shop);
        Self {
            shop: log.shop_state(id),
            photos: shop.photos().snapshot(),
            log,
        }
    }
}

impl Liar {
    pub(crate) fn new(seed: u64, time: UnixMs, floods: bool) -> Self {
        Self {
            lies: Lies::new(seed, time),
            token: None,
            floods,
        }
    }

    pub(crate) fn device(&self) -> DeviceId {
        self.lies.device
    }

    /// Tells a few lies.
    pub(crate) fn lie(&mut self, shop: &MemoryShop, dice: &Dice, seen: &Seen) {
        match self.tell(shop, dice, seen) {
            Err(Error::TokenRevoked | Error::TokenUnknown) => self.token = None,
            Err(other) => panic!("the server fails on a lie: {other}"),
            Ok(()) => {}
        }
    }

    fn tell(&mut self, shop: &MemoryShop, dice: &Dice, seen: &Seen) -> Result<(), Error> {
        let device = self.lies.device;
        let role = if dice.once_in(4) {
            Role::Repairer
        } else {
            Role::Helper
        };
        let token = self
            .token
            .get_or_insert_with(|| let_in(shop, device, None, &role).token);
        let member = now(shop.member_of(token))?;
        if member.role == Role::Repairer {
            return self.as_repairer(shop, &member, dice, seen);
        }
        nothing_of_repairers(shop, &member, dice);
        self.as_helper(shop, &member, dice, seen)
    }

    fn as_helper(
        &mut self,
        shop: &MemoryShop,
        member: &Member,
        dice: &Dice,
        seen: &Seen,
    ) -> Result<(), Error> {
        let id = shop_id(shop);
        let before = Records::of(shop, id);
        let known = Known {
            log: &before.log,
            shop: id,
            blobs: seen.blobs.borrow().keys().cloned().collect(),
        };
        let lies: Vec<_> = (0..dice.between(1, 6))
            .map(|_| self.lies.tell(&known, dice))
            .collect();
        let start = shop.world().now();
        let outcomes = push(shop, member, &lies)?;
        let mut expected = Expected {
            rules: HelperRules {
                device: member.device,
                shops: before.log.shops(id),
            },
            erasures: before.log.erasures(),
            entries: before.log.entries.clone(),
            given_up: seen.given_up.borrow().clone(),
            start,
            numbered: before.log.seq,
        };
        for (lie, outcome) in lies.iter().zip(&outcomes) {
            expected.check(lie, outcome);
        }
        let after = Records::of(shop, id);
        assert_eq!(
            after.log.entries, expected.entries,
            "lies have changed the records: {lies:?}"
        );
        assert_eq!(after.log.seq, expected.numbered, "lies were numbered: {lies:?}");
        assert_eq!(after.shop, before.shop, "lies have changed the shop: {lies:?}");
        assert_eq!(
            after.photos, before.photos,
            "lies have destroyed a photograph: {lies:?}"
        );
        let refused = lies.iter().zip(&outcomes);
        let refused = refused.filter(|(lie, _)| !after.log.entries.contains_key(&lie.entry.id));
        what_was_refused_is_kept(shop, refused);
        Ok(())
    }

    /// It knows everything that was ever written, also what no server has taken yet.
    fn as_repairer(
        &mut self,
        shop: &MemoryShop,
        member: &Member,
        dice: &Dice,
        seen: &Seen,
    ) -> Result<(), Error> {
        let id = shop_id(shop);
        let before = Records::of(shop, id);
        let known = Known {
            log: &before.log,
            shop: id,
            blobs: Vec::new(),
        };
        let written: Vec<Entry> = seen.entries.borrow().values().cloned().collect();
        let mut lies = Vec::new();
        let mut codes = Vec::new();
        for _ in 0..dice.between(1, 6) {
            let Some(entry) = dice.pick(&written) else {
                continue;
            };
            let (lie, code) = match dice.between(1, 5) {
                1 | 2 => (blanked(entry), Code::ErasureUnknown),
                // Under an id that the server does not hold, the first copy stands.
                3 if before.log.entries.contains_key(&entry.id) => (forged(entry), Code::IdTaken),
                4 => self.mention(&known, dice),
                _ => (self.lies.erasure_of_the_shop(id, dice), Code::NotErasable),
            };
            lies.push(ReceivedEntry::unsent(lie));
            codes.push(code);
        }
        if std::mem::take(&mut self.floods) {
            let flood = self.lies.mentions(&known, 2 * MAX_ERASED_MENTIONS, dice);
            codes.extend(flood.iter().map(|_| Code::TooManyErasures));
            lies.extend(flood.into_iter().map(ReceivedEntry::unsent));
        }
        lies.iter().for_each(|lie| seen.erasing_by(&lie.entry));
        for ((lie, code), outcome) in lies.iter().zip(codes).zip(push(shop, member, &lies)?) {
            match outcome {
                // What is erased is blank, whoever says so.
                PushOutcome::Accepted { .. } => {
                    assert_ne!(code, Code::NotErasable, "the shop is erased by {lie:?}");
                }
                PushOutcome::Refused(problem) => assert_eq!(problem.code, code, "{lie:?}"),
            }
        }
        few_are_erased(&before, &Records::of(shop, id));
        Ok(())
    }

    /// Erases a mention, and with which word the server refuses that, if it does.
    fn mention(&mut self, known: &Known<'_>, dice: &Dice) -> (Entry, Code) {
        let lie = self.lies.mention(known, dice);
        let is_shop = |subject: &Subject| {
            subject.kind == SubjectKind::Shop || known.log.shops(known.shop).contains(&subject.id)
        };
        let code = if is_shop(&lie.subject) {
            Code::NotErasable
        } else {
            Code::TooManyErasures
        };
        (lie, code)
    }
}

/// Of the shop nothing is erased, of mentions no more than the server takes in a day, and no photograph with one.
fn few_are_erased(before: &Records, after: &Records) {
    let (known, now) = (before.log.erasures(), after.log.erasures());
    let new = now.mentions.difference(&known.mentions).count();
    assert!(new <= MAX_ERASED_MENTIONS, "{new} mentions are erased in a day");
    assert_eq!(after.shop, before.shop, "a lie has changed the shop");
    assert_eq!(after.photos, before.photos, "a lie has destroyed a photograph");
}

/// What the server must answer to a helper's device, and what its records must be afterwards.
struct Expected {
    rules: HelperRules,
    erasures: Erasures,
    entries: BTreeMap<EntryId, ReceivedEntry>,
    /// What a repairer has dropped, if the server was not set back since.
    given_up: BTreeSet<EntryId>,
    start: UnixMs,
    numbered: u64,
}

impl Expected {
    fn check(&mut self, lie: &ReceivedEntry, outcome: &PushOutcome) {
        let must_be_taken = self.must_be_taken(&lie.entry);
        match outcome {
            PushOutcome::Refused(problem) => {
                let expected = self.refusals(&lie.entry);
                let is_dropped = problem.code == Code::DroppedByRepairer;
                let is_right = expected.contains(&problem.code) && (!must_be_taken || is_dropped);
                assert!(is_right, "{problem:?} {lie:?}");
            }
            PushOutcome::Accepted { received } => {
                assert!(must_be_taken, "taken from a helper: {lie:?}");
                self.is_taken(&lie.entry, *received);
            }
        }
    }

    fn must_be_taken(&self, lie: &Entry) -> bool {
        match self.entries.get(&lie.id) {
            // What is erased is blank, whoever says so.
            Some(held) => {
                let is_explained = lie.is_blank() && self.erasures.covers(lie);
                held.entry.is_blank() || held.entry.body == lie.body || is_explained
            }
            None => self.rules.allow(lie, &self.entries),
        }
    }

    /// The reasons for which an entry may be refused.
    fn refusals(&self, lie: &Entry) -> Vec<Code> {
        if self.entries.contains_key(&lie.id) {
            let is_blank = lie.is_blank();
            return vec![if is_blank {
                Code::ErasureUnknown
            } else {
                Code::IdTaken
            }];
        }
        let mut codes = vec![if self.rules.erases_shop(lie) {
            Code::NotErasable
        } else if self.erasures.covers(lie) {
            Code::Erased
        } else {
            Code::KeptForRepairer
        }];
        if self.given_up.contains(&lie.id) {
            codes.push(Code::DroppedByRepairer);
        }
        codes
    }

    /// Whatever time of receipt it carries, a new entry is received now, and a known one was when it was.
    fn is_taken(&mut self, lie: &Entry, received: UnixMs) {
        if let Some(held) = self.entries.get(&lie.id) {
            assert_eq!(held.received, Some(received), "received at another time: {lie:?}");
            return;
        }
        assert!(received >= self.start, "received before it came: {lie:?}");
        let mut entry = lie.clone();
        self.erasures.blank(&mut entry);
        let received = Some(received);
        self.entries.insert(entry.id, ReceivedEntry { entry, received });
        self.numbered += 1;
    }
}

/// Pushes through JSON, as over the wire.
fn push(shop: &MemoryShop, member: &Member, entries: &[ReceivedEntry]) -> Result<Vec<PushOutcome>, Error> {
    let request = PushRequest {
        entries: entries.to_vec(),
        pushed: None,
    };
    let body = serde_json::to_vec(&request).expect("entries are JSON");
    Ok(now(shop.push(member, read_push(&body)?))?.results)
}

/// What was refused because of the role is kept for a repairer, and nothing else is. It opens no card.
fn what_was_refused_is_kept<'a>(
    shop: &MemoryShop,
    lies: impl Iterator<Item = (&'a ReceivedEntry, &'a PushOutcome)>,
) {
    let kept = kept_aside(shop);
    for (lie, outcome) in lies {
        let PushOutcome::Refused(problem) = outcome else {
            continue;
        };
        let is_kept = kept.iter().any(|one| one.entry.entry.id == lie.entry.id);
        let for_repairer = problem.code == Code::KeptForRepairer;
        assert_eq!(is_kept, for_repairer, "{problem:?} {lie:?}");
        if let Body::CardLink(link) = Body::of(&lie.entry) {
            let card = now(shop.card(&link.secret));
            assert!(matches!(card, Err(Error::NotFound)), "{card:?} {lie:?}");
        }
    }
}

/// A helper's device shuts nobody out, lets nobody in, and decides about nothing that is kept aside.
fn nothing_of_repairers(shop: &MemoryShop, member: &Member, dice: &Dice) {
    let devices = now(shop.devices()).expect("the server answers");
    let victim = dice.pick(&devices).expect("a device has joined").id;
    let shut_out = now(shop.shut_out(member, victim));
    assert!(matches!(shut_out, Err(Error::ForRepairer)), "{shut_out:?}");
    let code = now(shop.join_code_of(member, dice.role()));
    assert!(matches!(code, Err(Error::ForRepairer)), "{code:?}");
    let take = kept_aside(shop).iter().map(|one| one.entry.entry.id).collect();
    let decision = KeptAsideDecision {
        take,
        ..KeptAsideDecision::default()
    };
    let decided = now(shop.decide_kept_aside(member, &decision));
    assert!(matches!(decided, Err(Error::ForRepairer)), "{decided:?}");
}

fn shop_id(shop: &MemoryShop) -> SubjectId {
    SubjectId(now(shop.status()).expect("the server answers").shop)
}
