//! How everything calms down: clocks are set right, everybody joins and syncs, and days pass until nothing waits any more.

use app_core::store::Record;
use app_core::store::memory::now;
use shared::sync::Code;
use shared::sync::messages::ERASURE_WAITS_MS;

use crate::kept_aside::kept_aside;
use crate::line::Weather;
use crate::phone::Phone;
use crate::server_log::ServerLog;
use crate::town::Town;

const HOUR: i64 = 3_600_000;
/// So often two days pass at most until everything that was asked for is done: a repairer takes a few erasures each time.
const TIMES: u32 = 16;

impl Town {
    /// Everything is put right, everybody joins, and all sync until nothing moves any more. Then the erasures come that were
    /// asked for, and a repairer decides about all that is kept aside.
    pub(crate) fn calm_down(&mut self) {
        for which in 0..self.phones.len() {
            self.phones[which].skew = 0;
            self.revive(which);
        }
        self.time_passes(HOUR);
        self.stormed += HOUR;
        if self.blanks {
            self.everybody_compares();
        }
        self.come_to_rest();
        for _ in 0..TIMES {
            self.time_passes(ERASURE_WAITS_MS + HOUR);
            self.offer_what_is_no_longer_kept();
            self.decide_about_what_is_kept_aside();
            self.offer_erasures_again();
            self.come_to_rest();
            if self.nothing_is_left_to_do() {
                return;
            }
        }
        panic!("something is left to do for ever: {}", self.what_is_left());
    }

    fn time_passes(&mut self, ms: i64) {
        self.time.0 += ms;
        self.household.world.set(self.time);
        for phone in &self.phones {
            phone.tick(self.time);
        }
    }

    fn everybody_compares(&self) {
        for phone in &self.phones {
            now(phone.store.read_everything_again()).expect("the phone writes");
        }
    }

    /// All sync until nothing moves any more.
    fn come_to_rest(&mut self) {
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

    fn decide_about_what_is_kept_aside(&self) {
        let member = self.repairer().expect("a repairer's device has joined");
        self.at_what_is_kept_aside(member).clear();
    }

    /// What is kept aside has no number: if a server was set back to the very number at which it stood, no phone notices that
    /// it has lost such entries. They are shown as refused where they were made, and somebody offers them again.
    fn offer_what_is_no_longer_kept(&self) {
        if !self.set_back {
            return;
        }
        let log = ServerLog::read(&self.shop);
        let kept = kept_aside(&self.shop);
        let given_up = self.seen.given_up.borrow();
        let is_lost = |record: &Record| {
            let id = record.received.entry.id;
            let is_kept = kept.iter().any(|one| one.entry.entry.id == id);
            let code = record.refused.as_ref().map(|problem| &problem.code);
            let is_known = is_kept || log.entries.contains_key(&id) || given_up.contains(&id);
            code == Some(&Code::KeptForRepairer) && !is_known
        };
        for phone in &self.phones {
            if phone.not_taken().iter().any(is_lost) {
                phone.offer_again();
            }
        }
    }

    /// An erasure beyond the day's number that was made before the phone joined has blanked the phone's copies, so that no
    /// request can stand in its place: it is offered again another day.
    fn offer_erasures_again(&self) {
        for phone in self.phones.iter().filter(|phone| erases_too_much(phone)) {
            phone.offer_again();
        }
    }

    fn what_is_left(&self) -> String {
        let kept = kept_aside(&self.shop);
        let requests = ServerLog::read(&self.shop).requests();
        let refused: Vec<_> = self.phones.iter().map(Phone::not_taken).collect();
        format!("kept aside {kept:?}\nrequests {requests:?}\nnot taken {refused:#?}")
    }

    fn nothing_is_left_to_do(&self) -> bool {
        let log = ServerLog::read(&self.shop);
        kept_aside(&self.shop).is_empty()
            && log.has_erased_what_was_asked_for(&self.seen)
            && !self.phones.iter().any(erases_too_much)
    }
}

/// Whether the phone waits with erasures that the server did not take because they were too many.
fn erases_too_much(phone: &Phone) -> bool {
    let mut refused = phone.not_taken().into_iter().filter_map(|record| record.refused);
    refused.any(|problem| problem.code == Code::TooManyErasures)
}
