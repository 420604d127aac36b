//! The town: one server, a few phones, and what happens to them.

use std::collections::BTreeMap;

use app_core::store::memory::{Fault, now};
use app_core::store::{Scope, Sha256Digest};
use app_core::sync::run_round;
use bytes::Bytes;
use server_core::store::BlobHash;
use shared::log::UnixMs;
use shared::sync::machine::RoundOutcome;
use support::memory::{Household, MemoryShop, Snapshot};

use crate::dice::Dice;
use crate::doings;
use crate::former_phone::FormerPhone;
use crate::joining::let_in;
use crate::liar::Liar;
use crate::line::Weather;
use crate::phone::Phone;
use crate::seen::Seen;

/// The server's disk as it stood once.
struct OldCopy {
    database: Snapshot,
    photos: BTreeMap<BlobHash, Bytes>,
}

pub(crate) struct Town {
    pub(crate) dice: Dice,
    pub(crate) household: Household,
    pub(crate) shop: MemoryShop,
    pub(crate) phones: Vec<Phone>,
    pub(crate) seen: Seen,
    pub(crate) set_back: bool,
    /// A phone that still runs an older app, and a device that lies: in some histories.
    pub(crate) former: Option<FormerPhone>,
    liar: Option<Liar>,
    /// Whether copies lose their content on the way to the phones, as from a server that takes in blank ones.
    blanks: bool,
    time: UnixMs,
    copies: Vec<OldCopy>,
    backups: Vec<Vec<u8>>,
}

impl Town {
    pub(crate) fn new(seed: u64) -> Self {
        let dice = Dice::new(seed);
        let time = UnixMs(1_790_000_000_000);
        let household = Household::new(dice.seed());
        household.world.set(time);
        let shop = now(household.open());
        let phones = (0..dice.between(2, 3))
            .map(|_| Phone::new(dice.seed(), time))
            .collect();
        let (seen, copies, backups) = (Seen::default(), Vec::new(), Vec::new());
        let former = dice.once_in(2).then(|| FormerPhone::new(dice.seed(), time));
        let liar = dice.once_in(2).then(|| Liar::new(dice.seed(), time));
        let blanks = dice.once_in(4);
        Self {
            dice,
            household,
            shop,
            phones,
            seen,
            set_back: false,
            former,
            liar,
            blanks,
            time,
            copies,
            backups,
        }
    }

    /// One event, and the clocks go on.
    pub(crate) fn something_happens(&mut self) {
        self.time.0 += i64::from(self.dice.between(0, 3_600_000));
        self.household.world.set(self.time);
        let which =
            self.dice
                .between(0, u32::try_from(self.phones.len()).expect("few phones") - 1) as usize;
        self.phones[which].tick(self.time);
        if self.dice.once_in(6) {
            self.arrange_a_crash(which);
        }
        self.others_act();
        match self.dice.between(1, 40) {
            1..=20 => now(doings::work(&self.phones[which].store, &self.dice, &self.seen)),
            21..=31 => self.sync(which, Weather::Stormy),
            32 => self.phones[which].skew = self.dice.years(),
            33 => self.phones[which].skew = 0,
            34 | 35 => self.copy_the_server(),
            36 => self.set_the_server_back(),
            37 => self.shut_out(which),
            38 => self.back_up(which),
            39 => self.restore_on_a_new_phone(),
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

    /// Everything is put right, everybody joins, and all sync until nothing moves any more.
    pub(crate) fn calm_down(&mut self) {
        self.time.0 += 3_600_000;
        self.household.world.set(self.time);
        for phone in &mut self.phones {
            phone.skew = 0;
            phone.revive();
            phone.tick(self.time);
            if self.blanks {
                now(phone.store.read_everything_again()).expect("the phone writes");
            }
        }
        let mut quiet = 0;
        for _ in 0..40 {
            let before = self.household.store.snapshot().seq();
            for which in 0..self.phones.len() {
                self.sync(which, Weather::Calm);
            }
            if let Some(former) = &mut self.former {
                former.tick(self.time);
                former.come_to_rest(&self.shop, &self.dice);
            }
            quiet = if self.household.store.snapshot().seq() == before {
                quiet + 1
            } else {
                0
            };
            if quiet == 2 {
                return;
            }
        }
        panic!("the shop never comes to rest");
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

    fn revive(&mut self, which: usize) {
        self.phones[which].revive();
        self.phones[which].tick(self.time);
    }

    /// One round; a phone that is not joined asks for a code first.
    fn sync(&mut self, which: usize, weather: Weather) {
        self.join(which);
        let phone = &self.phones[which];
        if phone.memory.crashed() {
            return;
        }
        let Some(mut line) = phone.line(&self.shop, &self.dice, &self.seen, weather) else {
            return;
        };
        line.blanks = self.blanks && weather == Weather::Stormy;
        let memory = phone.memory.clone();
        let rest = now(run_round(&phone.store, &line, &mut |command| {
            let asks = !matches!(command, shared::sync::machine::Command::Rest(_));
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
    }

    fn join(&mut self, which: usize) {
        let phone = &self.phones[which];
        if phone.memory.crashed() || phone.membership().token.is_some() {
            return;
        }
        let answer = let_in(&self.shop, phone.store.device(), phone.membership().shop);
        // It may crash right here; then it joins with another code.
        drop(now(phone.store.set_join(
            &answer,
            "https://shop.example",
            "phone",
        )));
    }

    fn copy_the_server(&mut self) {
        let (database, photos) = (self.household.store.snapshot(), self.household.photos.snapshot());
        self.copies.push(OldCopy { database, photos });
    }

    /// An older copy comes back: the database, at times the photographs, at times with a new epoch, and at times
    /// under a running server.
    fn set_the_server_back(&mut self) {
        let Some(copy) = self.dice.pick(&self.copies) else {
            return;
        };
        self.set_back = true;
        self.household.store.roll_back(&copy.database);
        if self.dice.once_in(2) {
            self.household.photos.roll_back(&copy.photos);
        }
        if self.dice.once_in(3) {
            let world: &dyn server_core::world::World = &self.household.world;
            self.household.store.set_epoch(world.uuid());
        }
        self.shop = now(self.household.open());
        now(self.shop.miss_lost_photos()).expect("the server looks at its photographs");
    }

    fn shut_out(&mut self, which: usize) {
        let device = self.phones[which].store.device();
        // A device that never joined, or joined after the copy that was put back, is not known.
        drop(now(self.shop.revoke(device)));
    }

    fn back_up(&mut self, which: usize) {
        let scope = if self.dice.once_in(2) {
            Scope::All
        } else {
            Scope::Unsynced
        };
        let mut file = Vec::new();
        let mut sink = |piece: Vec<u8>| file.extend_from_slice(&piece);
        if now(self.phones[which].store.write_backup(scope, &Native, &mut sink)).is_ok() {
            self.backups.push(file);
        }
    }

    /// The shop buys a phone and reads an old backup in; the one it was made on may still be there.
    fn restore_on_a_new_phone(&mut self) {
        let Some(file) = self.dice.pick(&self.backups) else {
            return;
        };
        if self.phones.len() >= 5 {
            return;
        }
        let phone = Phone::new(self.dice.seed(), self.time);
        now(phone.store.read_backup(file, &Native)).expect("a whole backup can be read in");
        self.phones.push(phone);
    }
}

/// SHA-256 by a library, where the app takes the browser's.
struct Native;

impl Sha256Digest for Native {
    async fn sha256(&self, bytes: &[u8]) -> Result<String, String> {
        Ok(support::sample::sha256(bytes))
    }
}
