//! The town: one server, a few phones, and what happens to them.

use std::collections::{BTreeMap, BTreeSet};

use app_core::store::memory::{Fault, now};
use app_core::sync::run_round;
use bytes::Bytes;
use server_core::error::Error;
use server_core::shop::Member;
use server_core::store::BlobHash;
use shared::log::UnixMs;
use shared::log::body::Role;
use shared::sync::machine::{Command, RoundOutcome};
use support::memory::{Household, MemoryShop, Snapshot};

use crate::dice::Dice;
use crate::doings;
use crate::former_phone::FormerPhone;
use crate::joining::let_in;
use crate::kept_aside::Repairer;
use crate::liar::Liar;
use crate::line::Weather;
use crate::phone::{Holdings, Phone};
use crate::seen::Seen;
use crate::server_log::ServerLog;
use crate::wiped::Wiped;

/// The server's disk as it stood once.
pub(crate) struct OldCopy {
    pub(crate) database: Snapshot,
    pub(crate) photos: BTreeMap<BlobHash, Bytes>,
}

pub(crate) struct Town {
    pub(crate) dice: Dice,
    pub(crate) household: Household,
    pub(crate) shop: MemoryShop,
    /// The first is always a repairer's.
    pub(crate) phones: Vec<Phone>,
    pub(crate) seen: Seen,
    pub(crate) wiped: Wiped,
    pub(crate) set_back: bool,
    /// A phone that still runs an older app, and a device that lies: in some histories.
    pub(crate) former: Option<FormerPhone>,
    pub(crate) liar: Option<Liar>,
    /// Whether copies lose their content on the way to the phones, as from a server that takes in blank ones.
    pub(crate) blanks: bool,
    pub(crate) time: UnixMs,
    /// How long it took until everybody was in touch again, in ms.
    pub(crate) stormed: i64,
    pub(crate) copies: Vec<OldCopy>,
    pub(crate) backups: Vec<Vec<u8>>,
}

impl Town {
    pub(crate) fn new(seed: u64) -> Self {
        let dice = Dice::new(seed);
        let time = UnixMs(1_790_000_000_000);
        let household = Household::new(dice.seed());
        household.world.set(time);
        let shop = now(household.open());
        let mut phones = vec![Phone::new(dice.seed(), time, Role::Repairer)];
        for _ in 1..dice.between(2, 3) {
            phones.push(Phone::new(dice.seed(), time, dice.role()));
        }
        let former = dice.once_in(2).then(|| FormerPhone::new(dice.seed(), time));
        let liar = dice
            .once_in(2)
            .then(|| Liar::new(dice.seed(), time, dice.once_in(8)));
        let blanks = dice.once_in(4);
        Self {
            dice,
            household,
            shop,
            phones,
            seen: Seen::default(),
            wiped: Wiped::default(),
            set_back: false,
            former,
            liar,
            blanks,
            time,
            stormed: 0,
            copies: Vec::new(),
            backups: Vec::new(),
        }
    }

    /// One event, and the clocks go on.
    pub(crate) fn something_happens(&mut self) {
        let passed = i64::from(self.dice.between(0, 3_600_000));
        self.time.0 += passed;
        self.stormed += passed;
        self.household.world.set(self.time);
        let which =
            self.dice
                .between(0, u32::try_from(self.phones.len()).expect("few phones") - 1) as usize;
        self.phones[which].tick(self.time);
        if self.dice.once_in(6) {
            self.arrange_a_crash(which);
        }
        self.others_act();
        match self.dice.between(1, 45) {
            1..=20 => now(doings::work(&self.phones[which].store, &self.dice, &self.seen)),
            21..=31 => self.sync(which, Weather::Stormy),
            32 => self.phones[which].skew = self.dice.years(),
            33 => self.phones[which].skew = 0,
            34 | 35 => self.copy_the_server(),
            36 => self.set_the_server_back(),
            37 => self.shut_out(which),
            38 => self.back_up(which),
            39 => self.restore_on_a_new_phone(),
            40 | 41 => self.look_through_what_is_kept_aside(),
            42 => self.clear_out(which),
            43 => self.phones[which].offer_again(),
            44 => self.phones[which].tidy_up(),
            // The server's own clock is put back for a while.
            _ => self.household.world.set(UnixMs(self.time.0 - 3_600_000)),
        }
        self.revive(which);
    }

    /// The phone with the older app and the device that lies.
    fn others_act(&mut self) {
        if let Some(former) = self.former.as_mut().filter(|_| self.dice.once_in(3)) {
            former.tick(self.time);
            if self.dice.once_in(2) {
                former.work(&self.dice, &self.seen);
            } else {
                former.sync(&self.shop, &self.dice, Weather::Stormy);
            }
        }
        if let Some(liar) = self.liar.as_mut().filter(|_| self.dice.once_in(4)) {
            liar.lie(&self.shop, &self.dice, &self.seen);
        }
    }

    fn arrange_a_crash(&self, which: usize) {
        let commit = self.dice.between(1, 6);
        let fault = if self.dice.once_in(2) {
            Fault::CrashBefore(commit)
        } else {
            Fault::CrashAfter(commit)
        };
        self.phones[which].memory.fail(fault);
    }

    pub(crate) fn revive(&mut self, which: usize) {
        self.phones[which].revive();
        self.phones[which].tick(self.time);
    }

    /// One round; a phone that is not joined asks for a code first.
    pub(crate) fn sync(&mut self, which: usize, weather: Weather) {
        self.join(which);
        let phone = &self.phones[which];
        if phone.memory.crashed() {
            return;
        }
        let Some(token) = phone.membership().token else {
            return;
        };
        let is_shut_out = matches!(now(self.shop.member_of(&token)), Err(Error::TokenRevoked));
        let before = is_shut_out.then(|| phone.holdings());
        let blobs = phone.blobs();
        let proved = self.round(which, weather);
        if let Some(before) = before {
            self.revive(which);
            let after = self.phones[which].holdings();
            self.note_wiped(&before, &after, proved);
        } else {
            self.bytes_go_only_with_an_erasure(which, &blobs);
        }
    }

    /// Returns whether the server has proved to the phone that it was shut out.
    fn round(&self, which: usize, weather: Weather) -> bool {
        let phone = &self.phones[which];
        let Some(mut line) = phone.line(&self.shop, &self.dice, &self.seen, weather) else {
            return false;
        };
        line.blanks = self.blanks && weather == Weather::Stormy;
        let memory = phone.memory.clone();
        let rest = now(run_round(&phone.store, &line, &mut |command| {
            let asks = !matches!(command, Command::Rest(_));
            assert!(
                !asks || memory.open_transactions() == 0,
                "a transaction is open between two commands"
            );
        }));
        if weather == Weather::Calm {
            assert!(
                matches!(rest, RoundOutcome::UpToDate | RoundOutcome::JoinAgain(_)),
                "in calm weather a round ends well: {rest:?}"
            );
        }
        line.proved.get()
    }

    /// Bytes that were shown as saved leave a phone because they were erased, or the whole subject; never because of a
    /// mention.
    fn bytes_go_only_with_an_erasure(&self, which: usize, before: &BTreeSet<String>) {
        let after = self.phones[which].blobs();
        let shown = self.seen.blobs.borrow();
        let gone = before.difference(&after).filter(|hash| shown.contains_key(*hash));
        let mut gone = gone.peekable();
        if gone.peek().is_none() {
            return;
        }
        let erasures = ServerLog::read(&self.shop).erasures();
        for hash in gone {
            let is_erased = erasures.covers_blob(hash) || self.seen.goes_with_subject(&erasures, hash);
            assert!(is_erased, "{hash} is gone, and not erased");
        }
    }

    /// A phone that was shut out has deleted what it holds no more: only with a proof, and only what is on the server.
    fn note_wiped(&mut self, before: &Holdings, after: &Holdings, proved: bool) {
        let entries: Vec<_> = before.confirmed.difference(&after.entries).collect();
        let blobs: Vec<_> = before.blobs.difference(&after.blobs).collect();
        if entries.is_empty() && blobs.is_empty() {
            return;
        }
        assert!(
            proved,
            "a phone deletes something, and nobody has proved that it was shut out"
        );
        let log = ServerLog::read(&self.shop);
        for id in entries {
            let held = log.entries.get(id);
            let held = held.unwrap_or_else(|| panic!("deleted, and not on the server: {id}"));
            self.wiped.note(&held.entry);
        }
        let photos = self.household.photos.snapshot();
        let erasures = log.erasures();
        for hash in blobs {
            // Its erasure has not reached the phone yet.
            if erasures.covers_blob(hash) || self.seen.goes_with_subject(&erasures, hash) {
                continue;
            }
            if photos.contains_key(&hash.parse().expect("a hash")) {
                self.wiped.note_blob(hash.clone());
            } else {
                // The server lost it when it was set back, and has not told the phone yet.
                assert!(
                    self.set_back,
                    "a photograph is deleted, and not on the server: {hash}"
                );
                self.wiped.lose_blob(hash.clone());
            }
        }
    }

    fn join(&mut self, which: usize) {
        let phone = &self.phones[which];
        if phone.memory.crashed() || phone.membership().token.is_some() {
            return;
        }
        // The shop may have changed its mind about whose phone it is.
        if which > 0 && self.dice.once_in(6) {
            self.phones[which].role = self.dice.role();
        }
        let phone = &self.phones[which];
        let answer = let_in(
            &self.shop,
            phone.store.device(),
            phone.membership().shop,
            &phone.role,
        );
        // It may crash right here; then it joins with another code.
        drop(now(phone.store.set_join(
            &answer,
            "https://shop.example",
            "phone",
        )));
    }

    /// A repairer's device that has access.
    pub(crate) fn repairer(&self) -> Option<Member> {
        let tokens = self.phones.iter().filter_map(|phone| phone.membership().token);
        let mut members = tokens.filter_map(|token| now(self.shop.member_of(&token)).ok());
        members.find(|member| member.role == Role::Repairer)
    }

    /// A repairer at this device, who looks at what is kept aside.
    pub(crate) fn at_what_is_kept_aside(&self, member: Member) -> Repairer<'_> {
        Repairer {
            member,
            shop: &self.shop,
            liar: self.liar.as_ref().map(Liar::device),
            seen: &self.seen,
        }
    }
}
